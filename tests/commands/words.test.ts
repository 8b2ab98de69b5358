import { cp, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ENGLISH } from '../../src/language/language.ts';
import { critsheet, inFolder } from './run-command.ts';

const ENTRY = `- says: skate
  also: [on ice]
  means: contact
  yes: her foot is skating
  no: the floor gag reads well
`;

/** Runs on a folder with the tables of the real one, one small lexicon in the place of all others. */
function words(lexicon: string) {
  return inFolder(async (folder) => {
    for (const table of ['numbers', 'titles', 'frame-words', 'glossary', 'heard-numbers']) {
      await cp(join(ENGLISH, `${table}.yaml`), join(folder, `${table}.yaml`));
    }
    await writeFile(join(folder, 'parts.yaml'), lexicon);
    return critsheet(['words', '--folder', folder]);
  });
}

describe('critsheet words', () => {
  it('says how much was checked where all hold', async () => {
    expect(await words(ENTRY)).toEqual({
      code: 0,
      out: '1 lexicon, 1 entry, 2 phrases: all hold.\n',
      err: '',
    });
  });

  it('prints every failure with file, entry and sentence, and exits 1', async () => {
    const { code, out, err } = await words(ENTRY.replace('skating', 'sliding').replace('on ice', 'a/b'));
    expect(code).toBe(1);
    expect(out.trim().split('\n')).toEqual([
      'parts.yaml, entry "skate": phrase "a/b": "a/b" is no word that talk can hold: leave out signs',
      'parts.yaml, entry "skate": yes "her foot is sliding": contact is not found in it',
    ]);
    expect(err).toContain('1 lexicon, 1 entry, 2 phrases checked, and 2 faults found in 1 entry');
  });

  it('tells of an entry without its sentences, and of a folder without lexicons', async () => {
    expect((await words('- says: skate\n  means: contact\n')).err).toContain('parts.yaml, entry 1: yes');
    const { code, err } = await inFolder((folder) => critsheet(['words', '--folder', folder]));
    expect(code).toBe(1);
    expect(err).toContain('holds no lexicons');
  });
});
