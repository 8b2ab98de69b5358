import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

describe('read', () => {
  it('writes the sheet and its page beside the recording, and says so', () =>
    inFolder(async (folder) => {
      const { code, out, err } = await critsheet(['read', await putTranscript(folder)]);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect((await readdir(folder)).sort()).toEqual([
        'take3.sheet.json',
        'take3.sheet.md',
        'take3.transcript.json',
      ]);
      expect(out).toContain(`written: ${join(folder, 'take3.sheet.json')}\n`);
      expect(out).toContain(`written: ${join(folder, 'take3.sheet.md')}\n`);
      const sheet = sheetSchema.parse(JSON.parse(await readFile(join(folder, 'take3.sheet.json'), 'utf8')));
      expect(sheet.shot).toMatchObject({ name: 'take3', fps: 24, first: 1, last: null });
      expect(sheet.recording.file).toBe('take3.wav');
    }));

  it('writes what --as names too, into the folder that --out names and that need not exist', () =>
    inFolder(async (folder) => {
      const out = join(folder, 'notes');
      const ran = await critsheet([
        'read',
        await putTranscript(folder),
        '--out',
        out,
        '--as',
        'vtt,srt,txt,md',
      ]);
      expect(ran.code).toBe(0);
      expect((await readdir(out)).sort()).toEqual(
        ['take3.sheet.json', 'take3.sheet.md', 'take3.srt', 'take3.txt', 'take3.vtt'].sort(),
      );
    }));

  it('--json prints the sheet on standard output and nothing else anywhere', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      const { code, out, err } = await critsheet(['read', path, '--json']);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(sheetSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(100);
      expect(await readdir(folder)).toEqual(['take3.transcript.json']);
    }));

  it('--json with --out prints what it writes', () =>
    inFolder(async (folder) => {
      const { out } = await critsheet(['read', await putTranscript(folder), '--json', '--out', folder]);
      expect(out).toBe(await readFile(join(folder, 'take3.sheet.json'), 'utf8'));
    }));

  it('without a terminal and --verbose there is no progress; with --verbose there are plain lines', () =>
    inFolder(async (folder) => {
      const { err } = await critsheet(['read', await putTranscript(folder), '--verbose']);
      expect(err).toMatch(
        /^finding the notes: 90 %\nfinding the notes: 100 %\ncritsheet: [\d.]+ s: .*finding the notes \d+ %\n$/,
      );
    }));
});

describe('the shot of a recording', () => {
  const shot = (name: string) => JSON.stringify({ name, fps: 25, first: 101, last: 196 });
  const shotOf = async (args: string[]) => {
    const { out, err } = await critsheet(['read', ...args, '--json']);
    return { shot: JSON.parse(out).shot, err };
  };

  it('is what --shot says', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'other.json');
      await writeFile(file, shot('from-option'));
      await writeFile(join(folder, 'shot.json'), shot('from-folder'));
      const read = await shotOf([await putTranscript(folder), '--shot', file]);
      expect(read).toMatchObject({ shot: { name: 'from-option', fps: 25, first: 101 }, err: '' });
    }));

  it('is else found beside the recording, its own file first, and that is said', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      await writeFile(join(folder, 'shot.json'), shot('from-folder'));
      expect(await shotOf([recording])).toEqual({
        shot: expect.objectContaining({ name: 'from-folder' }),
        err: `critsheet: the shot is described by ${join(folder, 'shot.json')}, found beside the recording.\n`,
      });
      await writeFile(join(folder, 'take3.shot.json'), shot('own'));
      expect((await shotOf([recording])).shot.name).toBe('own');
    }));

  it('is named like the recording where its file gives no name', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'shot.json'), '\uFEFF{"fps": 30}');
      const read = await shotOf([await putTranscript(folder)]);
      expect(read.shot).toMatchObject({ name: 'take3', fps: 30, first: 1, last: null });
    }));
});

describe('a stop', () => {
  it('exits 130 and leaves no file', () =>
    inFolder(async (folder) => {
      const stop = new AbortController();
      stop.abort();
      const ran = await critsheet(['read', await putTranscript(folder)], stop.signal);
      expect(ran).toEqual({ code: 130, out: '', err: 'critsheet: stopped; no file was changed.\n' });
      expect(await readdir(folder)).toEqual(['take3.transcript.json']);
    }));
});
