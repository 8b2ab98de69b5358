import { describe, expect, it } from 'vitest';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import { savedSheet, savedSheetText } from './saved-sheet.ts';

function fault(text: string): string {
  try {
    readSheet(text, 'take3.sheet.json');
  } catch (error) {
    return error instanceof Error ? `${error.name}: ${error.message}` : 'something else';
  }
  return 'no fault';
}

describe('a saved sheet', () => {
  it('is read with every key, the ones this version does not know among them', () => {
    expect(savedSheet()).toEqual(JSON.parse(savedSheetText()));
    expect(savedSheet()).toHaveProperty('laterKey.kept', true);
  });
});

describe('a file that is no sheet', () => {
  const advice = 'Give a .sheet.json file that "critsheet read" wrote, or read the recording again.';

  it('is refused with the line and column where it stops being JSON', () => {
    expect(fault('{\n  "schema": "critsheet/1",\n  "notes": [,]\n}')).toBe(
      `PersonError: take3.sheet.json is not JSON: at line 3, column 13 there is "," where a value was expected. ${advice}`,
    );
  });

  it('is refused by its label before anything else', () => {
    expect(fault('{"schema": "critsheet/9"}')).toBe(
      `PersonError: take3.sheet.json is marked "critsheet/9", and this version reads "critsheet/1". ${advice}`,
    );
  });

  it('is refused with the key that is missing or wrong', () => {
    const { words, ...rest } = savedSheet();
    expect(fault(JSON.stringify(rest))).toContain('"words" is missing (a list in [ ])');
    expect(fault(JSON.stringify({ ...rest, words: [{ ...words[0], start: 'soon' }] }))).toContain(
      '"words[0].start" must be a number, not "soon"',
    );
    expect(
      fault(JSON.stringify({ ...rest, words, notes: [{ ...savedSheet().notes[0], role: 'maybe' }] })),
    ).toContain('"notes[0].role" must be "fix" or "keep", not "maybe"');
  });

  it('is refused where it is empty, or no object', () => {
    expect(fault(' \n')).toBe(
      `PersonError: take3.sheet.json is empty, where a sheet was expected. ${advice}`,
    );
    expect(fault('[]')).toContain('the whole file must be an object in { }, not a list');
    expect(fault('null')).toContain('the whole file must be an object in { }');
  });
});
