import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

describe('a shot file that cannot be used exits 1 with one line that says what and where', () => {
  it.each<[string, string, string]>([
    ['no JSON', '{\n  "fps": 24\n  "first": 1\n}', 'is not JSON: at line 3, column 3 there is'],
    ['empty', '', 'is empty, where a shot file was expected'],
    [
      'an unknown key',
      '{"frames": 3}',
      '"frames" is not a key known here, which are name, fps, first, last, characters, dialogue',
    ],
    [
      'an unknown key of a character',
      '{"characters": [{"name": "a", "say": []}]}',
      '"say" is not a key known in "characters[0]", which are name, words',
    ],
    ['fps 0', '{"fps": 0}', '"fps" must be more than 0, not 0'],
    ['fps in quotes', '{"fps": "24"}', '"fps" must be a number, not "24"'],
    ['half a frame', '{"first": 1.5}', '"first" must be a whole number, not 1.5'],
    [
      'last before first',
      '{"first": 1001, "last": 100}',
      '"last": the last frame comes before the first (it is 100)',
    ],
    ['a list', '[]', 'the whole file must be an object in { }, not a list'],
    ['two mistakes', '{"fps": 0, "frames": 3}', '(and 1 more)'],
  ])('%s', async (_, text, said) =>
    inFolder(async (folder) => {
      const file = join(folder, 'mine.json');
      await writeFile(file, text);
      const { code, out, err } = await critsheet(['read', await putTranscript(folder), '--shot', file]);
      expect(err).toContain(`critsheet: mine.json is`);
      expect(err).toContain(said);
      expect(err).toContain(`Mend ${file}, or give another with --shot.`);
      expect(err.trimEnd().split('\n')).toHaveLength(1);
      expect({ code, out }).toEqual({ code: 1, out: '' });
    }),
  );

  it('that is not there', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'nowhere.json');
      const { code, err } = await critsheet(['read', await putTranscript(folder), '--shot', file]);
      expect({ code, err }).toEqual({
        code: 1,
        err: `critsheet: There is no file ${file}: check the name and the folder.\n`,
      });
    }));

  it('that is a folder', () =>
    inFolder(async (folder) => {
      const { code, err } = await critsheet(['read', await putTranscript(folder), '--shot', folder]);
      expect({ code, err }).toEqual({
        code: 1,
        err: `critsheet: ${folder} is a folder: give one file in it.\n`,
      });
    }));
});
