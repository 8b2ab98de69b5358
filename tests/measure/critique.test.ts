import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { readCritiques, shotOf, spokenForm } from '../../src/measure/critique.ts';
import { inFolder } from '../commands/run-command.ts';
import { CRITIQUE } from './hand-made.ts';

const PRACTICE = fileURLToPath(new URL('../critiques/practice', import.meta.url));

/** The message with which a folder with this file is refused. */
function refusal(text: string): Promise<string> {
  return inFolder(async (folder) => {
    await writeFile(join(folder, 'odd.json'), text);
    try {
      readCritiques(folder);
    } catch (error) {
      expect(error).toBeInstanceOf(PersonError);
      return String(error);
    }
    return 'read';
  });
}

describe('a file that is no critique is refused with its name and the key', () => {
  it.each<[string, unknown, string]>([
    ['another record', { schema: 'critsheet/1' }, '"name" is missing'],
    [
      'an unknown role',
      { ...CRITIQUE, segments: [{ say: 'hm', pause: 1, role: 'fxi' }] },
      '"segments[0].role"',
    ],
    [
      'an unknown part',
      { ...CRITIQUE, notes: { n1: { ...CRITIQUE.notes.n1, body: ['paw'] } } },
      '"notes.n1.body[0]"',
    ],
    [
      'a segment without words',
      { ...CRITIQUE, segments: [{ say: ' ', pause: 1, role: 'fix' }] },
      '"segments[0].say"',
    ],
    [
      'a shot that ends before it begins',
      { ...CRITIQUE, shot: { ...CRITIQUE.shot, last: 0 } },
      '"shot.last"',
    ],
  ])('%s', async (_, value, said) => {
    const message = await refusal(JSON.stringify(value));
    expect(message).toContain('odd.json is not a labelled critique that can be used');
    expect(message).toContain(said);
  });

  it('text that is no JSON', async () => {
    expect(await refusal('{"name": ')).toMatch(/odd\.json is not JSON: at line 1, column 10/);
  });
});

describe('a folder', () => {
  it('that is not there, is a file, or holds no critiques is refused', () =>
    inFolder(async (folder) => {
      expect(() => readCritiques(join(folder, 'nowhere'))).toThrow(/There is no folder .*nowhere/);
      await writeFile(join(folder, 'notes.txt'), 'hm');
      expect(() => readCritiques(join(folder, 'notes.txt'))).toThrow(/notes\.txt is a file/);
      await mkdir(join(folder, 'empty'));
      expect(() => readCritiques(join(folder, 'empty'))).toThrow(/empty holds no labelled critiques/);
    }));

  it('of critiques is read in the order of names, each with a shot and words in order', () => {
    const critiques = readCritiques(PRACTICE);
    expect(critiques.map(({ name }) => name)).toEqual(['a2', 'b1', 'c1', 'c3']);
    for (const critique of critiques) {
      const { transcript, segments } = spokenForm(critique);
      expect(shotOf(critique).name).toBe(critique.name);
      expect(segments.at(-1)?.lastWord).toBe(transcript.words.length - 1);
      expect(
        transcript.words.every((word, i) => word.start >= (transcript.words[i - 1]?.end ?? 0) - 1e-9),
      ).toBe(true);
    }
  });
});
