import { appendFile, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

describe('files that are there already', () => {
  it('are replaced where they are our own from the same recording', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      await critsheet(['read', recording]);
      await writeFile(join(folder, 'shot.json'), '{"name": "sq20", "fps": 25}');
      const { code, err } = await critsheet(['read', recording, '--shot', join(folder, 'shot.json')]);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(await sheets(folder)).toEqual(['take3.sheet.json', 'take3.sheet.md']);
      expect(await readFile(join(folder, 'take3.sheet.md'), 'utf8')).toContain('# sq20');
    }));

  it('are kept where they are of another recording, and the new ones numbered', () =>
    inFolder(async (folder) => {
      await critsheet(['read', await putTranscript(folder)]);
      const kept = await readFile(join(folder, 'take3.sheet.json'), 'utf8');
      const other = await putTranscript(folder, 'take3', 'cd'.repeat(32));
      const { code, out, err } = await critsheet(['read', other]);
      expect(code).toBe(0);
      expect(out).toContain('take3.sheet.2.json');
      expect(err).toContain(
        'critsheet: take3.sheet.json was made from something else or changed since, and is kept; the new one is take3.sheet.2.json.',
      );
      expect(await readFile(join(folder, 'take3.sheet.json'), 'utf8')).toBe(kept);
      const pair = ['take3.sheet.2.json', 'take3.sheet.2.md', 'take3.sheet.json', 'take3.sheet.md'];
      expect(await sheets(folder)).toEqual(pair);
      // Once more: it finds its own numbered files again.
      await critsheet(['read', other]);
      expect(await sheets(folder)).toEqual(pair);
    }));

  it('are kept where a person edited the page; the new page is numbered, and that one is replaced later', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      await critsheet(['read', recording]);
      const page = join(folder, 'take3.sheet.md');
      await appendFile(page, '\nAsked Tuesday, done.\n');
      const { err } = await critsheet(['read', recording]);
      expect(err).toContain('take3.sheet.md was made from something else or changed since, and is kept');
      await critsheet(['read', recording]);
      expect(await sheets(folder)).toEqual(['take3.sheet.2.md', 'take3.sheet.json', 'take3.sheet.md']);
      expect(await readFile(page, 'utf8')).toContain('Asked Tuesday, done.');
      const again = await critsheet(['write', join(folder, 'take3.sheet.json'), '--as', 'md']);
      expect(again.out).toContain('take3.sheet.2.md');
      expect(await readFile(page, 'utf8')).toContain('Asked Tuesday, done.');
    }));

  it.each([
    ['no JSON', 'my own notes'],
    ["another program's JSON", '{"schema": "other/1"}'],
    [
      'a sheet of a later version',
      `{"schema": "critsheet/2", "recording": {"sha256": "${'ab'.repeat(32)}"}}`,
    ],
    ['an empty file', ''],
  ])('are kept where they hold %s', (_, text) =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'take3.sheet.json'), text);
      const { code } = await critsheet(['read', await putTranscript(folder)]);
      expect(code).toBe(0);
      expect(await readFile(join(folder, 'take3.sheet.json'), 'utf8')).toBe(text);
      expect(await sheets(folder)).toContain('take3.sheet.2.json');
    }),
  );

  it('may be a folder of that name', () =>
    inFolder(async (folder) => {
      await mkdir(join(folder, 'take3.sheet.json'));
      expect((await critsheet(['read', await putTranscript(folder)])).code).toBe(0);
      expect(await sheets(folder)).toContain('take3.sheet.2.json');
    }));

  it('are never the captions that were read', () =>
    inFolder(async (folder) => {
      const transcript = await putTranscript(folder);
      await writeFile(join(folder, 'take3.vtt'), 'WEBVTT\n\n00:00.000 --> 00:01.000\nMine.\n');
      await critsheet(['transcribe', transcript, '--as', 'vtt']);
      expect(await readFile(join(folder, 'take3.vtt'), 'utf8')).toContain('Mine.');
      expect(await readdir(folder)).toContain('take3.2.vtt');
    }));
});

async function sheets(folder: string): Promise<string[]> {
  return (await readdir(folder)).filter((name) => name.includes('.sheet.')).sort();
}
