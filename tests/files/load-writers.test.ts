import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';
import { savedSheet, savedSheetText } from '../sheet/saved-sheet.ts';

const TALLY = `
export default {
  format: 'tally',
  ending: '.tally.txt',
  says: 'how many notes there are of each kind',
  leavesOut: 'everything else',
  write(sheet) {
    const text = sheet.notes.map((note) => note.role).sort().join('\\n') + '\\n';
    sheet.notes.length = 0;
    return text;
  },
};
`;
const roles = (): string =>
  `${savedSheet()
    .notes.map((note) => note.role)
    .sort()
    .join('\n')}\n`;

async function put(folder: string, name: string, text: string): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, text);
  return path;
}

describe('a writer from outside', () => {
  it('writes a sheet that there is, with no other format named', () =>
    inFolder(async (folder) => {
      const sheet = await put(folder, 'take3.sheet.json', savedSheetText());
      const writer = await put(folder, 'tally.mjs', TALLY);
      const ran = await critsheet(['write', sheet, '--writer', writer]);
      expect(ran).toMatchObject({ code: 0, err: '' });
      expect(await readFile(join(folder, 'take3.tally.txt'), 'utf8')).toBe(roles());
    }));

  it('writes beside the other formats when a recording is read, and cannot change what they hold', () =>
    inFolder(async (folder) => {
      const transcript = await putTranscript(folder);
      const writer = await put(folder, 'tally.mjs', TALLY);
      const out = join(folder, 'out');
      const { code } = await critsheet(['read', transcript, '--writer', writer, '--as', 'csv', '--out', out]);
      expect(code).toBe(0);
      expect((await readdir(out)).sort()).toEqual([
        'take3.sheet.csv',
        'take3.sheet.json',
        'take3.sheet.md',
        'take3.tally.txt',
      ]);
      const { notes } = JSON.parse(await readFile(join(out, 'take3.sheet.json'), 'utf8'));
      expect(notes.length).toBeGreaterThan(0);
    }));

  it('may be a package that is installed where one works', () =>
    inFolder(async (folder) => {
      const sheet = await put(folder, 'take3.sheet.json', savedSheetText());
      const home = join(folder, 'node_modules', 'sheet-tally');
      await mkdir(home, { recursive: true });
      await put(home, 'package.json', '{"name": "sheet-tally", "type": "module", "exports": "./index.js"}');
      await put(home, 'index.js', TALLY);
      const before = process.cwd();
      process.chdir(folder);
      try {
        expect(await critsheet(['write', sheet, '--writer', 'sheet-tally'])).toMatchObject({ code: 0 });
      } finally {
        process.chdir(before);
      }
      expect(await readFile(join(folder, 'take3.tally.txt'), 'utf8')).toBe(roles());
    }));

  it.each([
    ['is not there', null, /writer .*bad\.mjs cannot be loaded \(/],
    ['is no program', 'export default {', /bad\.mjs cannot be loaded \(/],
    ['exports nothing', 'export const a = 1;', /bad\.mjs is not a writer .*default export/],
    [
      'writes nothing',
      TALLY.replace('write(', 'read('),
      /bad\.mjs is not a writer \(write: a function is expected\)/,
    ],
    ['leaves the folder', TALLY.replace('.tally.txt', '/../x.txt'), /bad\.mjs is not a writer \(ending: /],
    [
      'takes a name that is taken',
      TALLY.replace("'tally'", "'md'"),
      /calls its format "md", which there is already/,
    ],
    [
      'takes an ending that is taken',
      TALLY.replace('.tally.txt', '.sheet.md'),
      /"\.sheet\.md" as the format md does/,
    ],
  ])('that %s is told of in one sentence, and nothing is written', (_, text, said) =>
    inFolder(async (folder) => {
      const transcript = await putTranscript(folder);
      if (text !== null) await put(folder, 'bad.mjs', text);
      const before = (await readdir(folder)).sort();
      const ran = await critsheet(['read', transcript, '--writer', join(folder, 'bad.mjs')]);
      expect(ran).toMatchObject({ code: 1, out: '' });
      expect(ran.err).toMatch(said);
      expect(ran.err).toMatch(/^critsheet: .*[.]\n$/);
      expect((await readdir(folder)).sort()).toEqual(before);
    }),
  );

  it.each([
    ['fails', TALLY.replace('const text', 'sheet.gone.at(); const text'), /bad\.mjs failed on this sheet \(/],
    ['gives no text', TALLY.replace('return text', 'return 7'), /bad\.mjs gave no text for this sheet/],
  ])('that %s is told of, and what was read is not lost by it', (_, text, said) =>
    inFolder(async (folder) => {
      const transcript = await putTranscript(folder);
      const writer = await put(folder, 'bad.mjs', text);
      const ran = await critsheet(['read', transcript, '--writer', writer]);
      expect(ran.code).toBe(0);
      expect(ran.err).toMatch(said);
      const files = (await readdir(folder)).sort();
      expect(files).toEqual(['bad.mjs', 'take3.sheet.json', 'take3.sheet.md', 'take3.transcript.json']);
      const again = await critsheet(['write', join(folder, 'take3.sheet.json'), '--writer', writer]);
      expect(again).toMatchObject({ code: 1, out: '', err: expect.stringMatching(said) });
    }),
  );
});
