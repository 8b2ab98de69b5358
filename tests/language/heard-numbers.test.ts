import { cp, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readHeardNumbers } from '../../src/language/heard-numbers.ts';
import { ENGLISH } from '../../src/language/language.ts';
import { readCritiques } from '../../src/measure/critique.ts';
import { homophoneMender } from '../../src/transcript/glossary/homophones.ts';
import { inFolder } from '../commands/run-command.ts';

describe('what numbers are misheard as', () => {
  it('changes nothing in critiques that were written down', () => {
    const mend = homophoneMender(readHeardNumbers());
    const folders = ['dev', 'fit'].map((name) => join(import.meta.dirname, '..', 'critiques', name));
    const said = readCritiques(...folders).flatMap(({ segments }) => segments.map(({ say }) => say));
    expect(said.length).toBeGreaterThan(8000);
    const changed = said.filter((say) => {
      const words = say.split(/\s+/).map((text) => ({ text, start: 0, end: 1, confidence: 1 }));
      return mend(words).some(({ heard }) => heard !== undefined);
    });
    expect(changed).toEqual([]);
  });

  it('is told by its entry where the table is damaged', () =>
    inFolder(async (folder) => {
      await cp(join(ENGLISH, 'numbers.yaml'), join(folder, 'numbers.yaml'));
      const entry = (among: string) =>
        `- says: two\n  heard: [to]\n  among: ["${among}"]\n  yes: to frames\n  no: so\n`;
      await writeFile(join(folder, 'heard-numbers.yaml'), entry('_ frames') + entry('frames'));
      expect(() => readHeardNumbers(folder)).toThrow(/heard-numbers\.yaml, entry 2, among 0: has "_" once/);
    }));
});
