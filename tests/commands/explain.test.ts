import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { savedSheet } from '../sheet/saved-sheet.ts';
import { critsheet, inFolder } from './run-command.ts';

const put = async (folder: string): Promise<string> => {
  const path = join(folder, 'take3.sheet.json');
  await writeFile(path, JSON.stringify(savedSheet()));
  return path;
};

describe('explain', () => {
  it('shows the words, what was found in them, and how sure each tag is', () =>
    inFolder(async (folder) => {
      const note = savedSheet().notes.find(({ rank }) => rank === 1);
      const { code, out } = await critsheet(['explain', await put(folder), note?.id ?? '']);
      expect(code).toBe(0);
      for (const { text } of note?.spans ?? []) expect(out).toContain(`"${text}"`);
      // The heel of the note must be found as a part of the body, and said by which phrase.
      expect(out).toMatch(/parts, heel: .*"heel/);
      expect(out).toMatch(/fault: .*\(contact\).*% sure/);
    }));

  it('takes a rank for an id', () =>
    inFolder(async (folder) => {
      const path = await put(folder);
      const id = savedSheet().notes.find(({ rank }) => rank === 2)?.id ?? '';
      const [byRank, byId] = [
        await critsheet(['explain', path, '2']),
        await critsheet(['explain', path, id]),
      ];
      expect(byRank.out).toBe(byId.out);
    }));

  it('names the notes there are where there is no such one', () =>
    inFolder(async (folder) => {
      const { code, err } = await critsheet(['explain', await put(folder), 'n99']);
      expect(code).toBe(1);
      expect(err).toMatch(/take3\.sheet\.json has no note n99: it has n\d/);
    }));
});
