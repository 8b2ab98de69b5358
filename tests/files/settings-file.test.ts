import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findSettings, isLeftOut, parseSettings } from '../../src/files/settings-file.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';

const settingsOf = (text: string) => parseSettings(text, join('/', 'takes', 'critsheet.json'));

describe('a critsheet.json that cannot be used', () => {
  it.each<[string, string, string]>([
    ['no JSON', '{"model": }', 'critsheet.json is not JSON: at line 1, column 11 there is "}"'],
    [
      'an unknown key',
      '{"modle": "moonshine-base"}',
      '"modle" is not a key known here, which are shot, formats, model, out, ignore',
    ],
    [
      'an unknown key of the shot',
      '{"shot": {"frames": 3}}',
      '"frames" is not a key known in "shot", which are name, fps, first, last, characters, dialogue',
    ],
    ['a rate in quotes', '{"shot": {"fps": "24"}}', '"shot.fps" must be a number, not "24"'],
    ['an unknown format', '{"formats": ["md", "pdf"]}', 'or "otio" or "chapters", not "pdf"'],
    ['one format without a list', '{"formats": "html"}', '"formats" must be a list in [ ], not "html"'],
    ['a model that is a number', '{"model": 3}', '"model" must be a text in quotes, not 3'],
  ])('says what is wrong and what is allowed: %s', (_, text, said) => {
    expect(() => settingsOf(text)).toThrow(said);
    expect(() => settingsOf(text)).toThrow('Mend /takes/critsheet.json, or move it away.');
  });

  it('stops a reading before it begins, in one line', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'critsheet.json'), '{"shot": {"first": "one"}}');
      const { code, out, err } = await critsheet(['read', await putTranscript(folder)]);
      expect({ code, out }).toEqual({ code: 1, out: '' });
      expect(err).toContain('"shot.first" must be a number, not "one"');
      expect(err.trimEnd().split('\n')).toHaveLength(1);
    }));
});

describe('settings', () => {
  it("are what README.md's example says", async () => {
    const readme = await readFile(new URL('../../README.md', import.meta.url), 'utf8');
    const [example] = [...readme.matchAll(/```json\n(.*?)```/gs)].filter((found) =>
      found[1]?.includes('"formats"'),
    );
    const settings = settingsOf(example?.[1] ?? '');
    expect(settings).toMatchObject({
      shot: { name: 'sq20_{recording}', fps: 24, first: 1001 },
      formats: ['html', 'csv'],
      model: 'moonshine-base',
      out: '/takes/notes',
    });
    expect(isLeftOut('/takes/Playblast_v3.mov', settings)).toBe(true);
    expect(isLeftOut('/takes/sh040.shot.mov', settings)).toBe(true);
    expect(isLeftOut('/takes/sh040_shot_mov', settings)).toBe(false);
  });

  it('are those of the nearest file upwards', () =>
    inFolder(async (folder) => {
      const deep = join(folder, 'a', 'b', 'c');
      await mkdir(deep, { recursive: true });
      await writeFile(join(folder, 'critsheet.json'), '{"model": "moonshine-base"}');
      expect((await findSettings(deep))?.path).toBe(join(folder, 'critsheet.json'));
      await writeFile(join(folder, 'a', 'critsheet.json'), '{"out": "notes"}');
      expect(await findSettings(deep)).toEqual({
        shot: {},
        ignore: [],
        out: join(folder, 'a', 'notes'),
        path: join(folder, 'a', 'critsheet.json'),
      });
    }));

  it('count less than the shot file, key by key, and less than the command line', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      const settings = {
        shot: { name: 'sq_{recording}', fps: 25, first: 1001 },
        formats: ['csv'],
        out: 'all',
      };
      await writeFile(join(folder, 'critsheet.json'), JSON.stringify(settings));
      await writeFile(join(folder, 'shot.json'), '{"fps": 30}');
      const first = await critsheet(['read', path]);
      expect(first.out).toContain(`written: ${join(folder, 'all', 'take3.sheet.csv')}\n`);
      const sheet = JSON.parse(await readFile(join(folder, 'all', 'take3.sheet.json'), 'utf8'));
      expect(sheet.shot).toMatchObject({ name: 'sq_take3', fps: 30, first: 1001 });
      const other = await critsheet(['read', path, '--as', 'txt', '--out', join(folder, 'other')]);
      expect(other.out).toContain(join(folder, 'other', 'take3.txt'));
      expect(other.out).not.toContain('.csv');
    }));

  it('that came with a folder run no code, and say where a writer is named instead', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      const ran = join(folder, 'ran.txt');
      const writer = `import { writeFileSync } from 'node:fs';
writeFileSync(${JSON.stringify(ran)}, '');
export default { format: 'tally', ending: '.tally.txt', write: () => '' };
`;
      await writeFile(join(folder, 'tally.mjs'), writer);
      const settings = join(folder, 'critsheet.json');
      for (const key of ['writers', 'writer']) {
        await writeFile(settings, JSON.stringify({ [key]: ['./tally.mjs'] }));
        const { code, out, err } = await critsheet(['read', path]);
        expect({ code, out }).toEqual({ code: 1, out: '' });
        expect(await readdir(folder)).not.toContain('ran.txt');
        expect(err).toBe(
          `critsheet: critsheet.json may not name writers, because a writer's code is run and settings lie in folders that anybody may have made: take "${key}" out of it, and give --writer on the command line. Mend ${settings}, or move it away.\n`,
        );
      }
      // What is named on the command line does run: so the file above would have been seen.
      await rm(settings);
      expect((await critsheet(['read', path, '--writer', join(folder, 'tally.mjs')])).code).toBe(0);
      expect(await readdir(folder)).toContain('ran.txt');
    }));

  it('and a shot file that do not go together are told of', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      await writeFile(join(folder, 'critsheet.json'), '{"shot": {"first": 1001}}');
      await writeFile(join(folder, 'shot.json'), '{"last": 168}');
      const { code, err } = await critsheet(['read', path]);
      expect(code).toBe(1);
      expect(err).toContain('ends at frame 168 and begins at 1001: give both frames in one file.');
    }));
});
