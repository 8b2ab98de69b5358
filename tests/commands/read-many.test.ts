import { copyFile, mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

const SPEECH = new URL('../fixtures/speech/', import.meta.url);
/** A real recording of five seconds, and the quick model, in worker threads: some seconds each. */
const putSpeech = (folder: string, name: string, from = 'synth-lift.wav') =>
  copyFile(new URL(from, SPEECH), join(folder, name));
const SLOW_MILLISECONDS = 300_000;

describe('reading many', () => {
  it(
    'reads a folder though one of it is broken, lists that at the end, and reads only what is new when told',
    { timeout: SLOW_MILLISECONDS },
    () =>
      inFolder(async (folder) => {
        await putSpeech(folder, 'one.wav');
        await putSpeech(folder, 'two.wav', 'synth-knee.wav');
        await writeFile(join(folder, 'broken.wav'), 'Not sound at all.\n'.repeat(40));
        await writeFile(join(folder, 'one.shot.json'), '{"name": "sh010", "first": 101}');
        const args = ['read', folder, '--model', 'moonshine-tiny'];
        const { code, out, err } = await critsheet(args);
        expect(code).toBe(1);
        const line = (name: string) => new RegExp(`^${join(folder, name)}: .*to change.*$`, 'm');
        expect(out).toMatch(line('one.wav'));
        expect(out).toMatch(line('two.wav'));
        expect(out.trimEnd().split('\n').slice(2)).toEqual([`written to: ${folder}`]);
        const reason = 'broken.wav holds text, not sound: give the recording itself.';
        expect(
          err.endsWith(`1 recording could not be read:\n  ${join(folder, 'broken.wav')}: ${reason}\n`),
        ).toBe(true);
        const sheetPath = join(folder, 'one.sheet.json');
        expect(JSON.parse(await readFile(sheetPath, 'utf8')).shot).toMatchObject({
          name: 'sh010',
          first: 101,
        });
        expect((await readdir(folder)).filter((name) => !/^(one|two|broken)\./.test(name))).toEqual([]);

        const { mtimeMs } = await stat(sheetPath);
        await writeFile(join(folder, 'two.shot.json'), '{"name": "sh020"}');
        const again = await critsheet([...args, '--only-new']);
        expect(again.out).toContain(`${join(folder, 'one.wav')}: has its sheet already.\n`);
        expect(again.out).toMatch(line('two.wav'));
        expect((await stat(sheetPath)).mtimeMs).toBe(mtimeMs);
        expect(JSON.parse(await readFile(join(folder, 'two.sheet.json'), 'utf8')).shot.name).toBe('sh020');
      }),
  );

  it('numbers recordings of one name that go to one folder, and loses none', () =>
    inFolder(async (folder) => {
      const paths: string[] = [];
      for (const [day, sha256] of [
        ['monday', 'ab'.repeat(32)],
        ['tuesday', 'cd'.repeat(32)],
      ] as const) {
        await mkdir(join(folder, day));
        paths.push(await putTranscript(join(folder, day), 'take3', sha256));
      }
      const out = join(folder, 'notes');
      const ran = await critsheet(['read', ...paths, '--out', out]);
      expect(ran.code).toBe(0);
      expect(ran.err).toContain(
        'tuesday/take3.transcript.json: take3.sheet.json was made from something else',
      );
      const shas = ['take3.sheet.json', 'take3.sheet.2.json'].map(async (name) => {
        const sheet = JSON.parse(await readFile(join(out, name), 'utf8'));
        return sheet.recording.sha256;
      });
      expect(await Promise.all(shas)).toEqual(['ab'.repeat(32), 'cd'.repeat(32)]);
      expect((await readdir(out)).sort()).toEqual(
        ['take3.sheet.2.json', 'take3.sheet.2.md', 'take3.sheet.json', 'take3.sheet.md'].sort(),
      );
    }));

  it.each([
    ['--playhead', ['--playhead', 'log.csv']],
    ['--previous', ['--previous', 'old.sheet.json']],
    ['--json', ['--json']],
  ])('refuses %s, which is for one', async (option, args) => {
    const { code, out, err } = await critsheet(['read', 'a.wav', 'b.wav', ...args]);
    expect({ code, out }).toEqual({ code: 1, out: '' });
    expect(err).toBe(
      `critsheet: ${option} is for one recording, and a folder, a pattern or several files are given (2 in all): read that recording by itself.\n`,
    );
  });

  it('ends at a stop, says how far it came, and leaves no file', () =>
    inFolder(async (folder) => {
      const paths = [await putTranscript(folder, 'a'), await putTranscript(folder, 'b')];
      const stop = new AbortController();
      const ran = critsheet(['read', ...paths], stop.signal);
      setTimeout(() => stop.abort(), 50);
      expect(await ran).toEqual({
        code: 130,
        out: '',
        err: 'critsheet: stopped; 0 of 2 recordings were read.\n',
      });
      expect((await readdir(folder)).sort()).toEqual(['a.transcript.json', 'b.transcript.json']);
    }));
});
