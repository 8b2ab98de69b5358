import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { savedSheetText } from '../sheet/saved-sheet.ts';
import { critsheet, inFolder } from './run-command.ts';

describe('write', () => {
  it('writes every format again from a sheet', () =>
    inFolder(async (folder) => {
      const sheet = join(folder, 'bk12.sheet.json');
      await writeFile(sheet, savedSheetText());
      const out = join(folder, 'out');
      const { code, err } = await critsheet(['write', sheet, '--as', 'md,vtt,srt,txt,json', '--out', out]);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect((await readdir(out)).sort()).toEqual(
        ['bk12.sheet.json', 'bk12.sheet.md', 'bk12.srt', 'bk12.txt', 'bk12.vtt'].sort(),
      );
      expect(await readFile(join(out, 'bk12.sheet.json'), 'utf8')).toBe(savedSheetText());
    }));

  it('keeps the number of the sheet', () =>
    inFolder(async (folder) => {
      const sheet = join(folder, 'bk12.sheet.3.json');
      await writeFile(sheet, savedSheetText());
      const { out, err } = await critsheet(['write', sheet, '--as', 'md']);
      expect({ out, err }).toEqual({ out: `written: ${join(folder, 'bk12.sheet.3.md')}\n`, err: '' });
    }));

  it('exits 1 for what is no sheet', () =>
    inFolder(async (folder) => {
      const sheet = join(folder, 'bk12.sheet.json');
      await writeFile(sheet, '{"schema": "critsheet/1"}');
      const { code, out, err } = await critsheet(['write', sheet, '--as', 'md']);
      expect({ code, out }).toEqual({ code: 1, out: '' });
      expect(err).toContain('bk12.sheet.json is not a sheet that can be used: "recording" is missing');
      expect((await critsheet(['write', join(folder, 'no.sheet.json'), '--as', 'md'])).err).toContain(
        'There is no file',
      );
      expect(await readdir(folder)).toEqual(['bk12.sheet.json']);
    }));
});
