import { createHash } from 'node:crypto';
import { appendFile, copyFile, mkdir, readdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { run } from '../../src/commands/run.ts';
import { inFolder } from './run-command.ts';

const SPEECH = new URL('../fixtures/speech/', import.meta.url);
const speech = (name: string) => new URL(`${name}.wav`, SPEECH);
const SLOW_MILLISECONDS = 400_000;

/** A watcher in this process, and all it said so far. */
function startWatch(folder: string, ...args: string[]) {
  const stop = new AbortController();
  const said = { out: '', err: '' };
  const screen = {
    print: (text: string) => {
      said.out += `${text}\n`;
    },
    tell: (text: string) => {
      said.err += `${text}\n`;
    },
    terminal: null,
  };
  const ended = run(['watch', folder, '--model', 'moonshine-tiny', '--settle', '1', ...args], {
    screen,
    signal: stop.signal,
  });
  return {
    said,
    end: () => {
      stop.abort();
      return ended;
    },
  };
}

const patient = { timeout: SLOW_MILLISECONDS, interval: 200 };

describe('a watched folder', () => {
  it(
    'has each recording read once, by one of two watchers: what lay there, what is copied slowly, what is renamed in',
    { timeout: SLOW_MILLISECONDS },
    () =>
      inFolder(async (folder) => {
        await copyFile(speech('synth-lift'), join(folder, 'lay.wav'));
        const watchers = [startWatch(folder, '--at-once', '1'), startWatch(folder, '--at-once', '1')];
        const lines = () => watchers.flatMap(({ said }) => said.out.split('\n').filter(Boolean));
        await expect
          .poll(() => watchers.every(({ said }) => said.err.includes('watching')), patient)
          .toBe(true);

        const bytes = await readFile(speech('synth-knee'));
        const piece = Math.ceil(bytes.length / 8);
        for (let at = 0; at < bytes.length; at += piece) {
          await appendFile(join(folder, 'slow.wav'), bytes.subarray(at, at + piece));
          await pause(400);
        }
        await copyFile(speech('synth-tail'), join(folder, '.renamed.wav.tmp'));
        await rename(join(folder, '.renamed.wav.tmp'), join(folder, 'renamed.wav'));
        await expect.poll(lines, patient).toHaveLength(3);
        // Time in which a second reading would have shown.
        await pause(3000);

        for (const name of ['lay', 'slow', 'renamed']) {
          expect(lines().filter((line) => line.startsWith(`${join(folder, name)}.wav: `))).toHaveLength(1);
          const sheet = JSON.parse(await readFile(join(folder, `${name}.sheet.json`), 'utf8'));
          const content = await readFile(join(folder, `${name}.wav`));
          expect(sheet.recording.sha256).toBe(createHash('sha256').update(content).digest('hex'));
        }
        expect(await Promise.all(watchers.map(({ end }) => end()))).toEqual([0, 0]);
        expect((await readdir(folder)).filter((name) => !/^(lay|slow|renamed)\./.test(name))).toEqual([]);
      }),
  );

  it('may vanish and come back; what could not be read is listed at the end', () =>
    inFolder(async (around) => {
      const folder = join(around, 'inbox');
      await mkdir(join(folder, 'deep'), { recursive: true });
      await writeFile(join(folder, 'broken.wav'), 'Not sound at all.\n'.repeat(40));
      await writeFile(join(folder, 'deep', 'unseen.wav'), 'Not sound at all.\n'.repeat(40));
      const watcher = startWatch(folder);
      await expect.poll(() => watcher.said.err, patient).toContain('broken.wav: not read.');
      await rename(folder, join(around, 'away'));
      await expect.poll(() => watcher.said.err, patient).toContain('is gone; waiting for it to come back');
      await writeFile(join(around, 'away', 'late.wav'), '');
      await rename(join(around, 'away'), folder);
      await expect.poll(() => watcher.said.err, patient).toContain('is back');
      await writeFile(join(folder, 'late.wav'), 'Nor is this.\n'.repeat(40));
      await expect.poll(() => watcher.said.err, patient).toContain('late.wav: not read.');
      expect(await watcher.end()).toBe(1);
      const [, list = ''] = watcher.said.err.split('2 recordings could not be read:\n');
      expect(list.trimEnd().split('\n')).toEqual([
        expect.stringContaining('broken.wav holds text'),
        expect.stringContaining('late.wav holds text'),
      ]);
    }));

  it('must be there, and be a folder', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'a.txt');
      await writeFile(file, '');
      for (const [path, words] of [
        [join(folder, 'nowhere'), 'There is no file'],
        [file, 'is a file, not a folder'],
      ] as const) {
        const watcher = startWatch(path);
        await expect.poll(() => watcher.said.err).toContain(words);
        expect(await watcher.end()).toBe(1);
      }
    }));
});
