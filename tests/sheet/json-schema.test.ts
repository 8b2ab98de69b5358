import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { sheetJsonSchema } from '../../src/sheet/json-schema.ts';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { savedSheet } from './saved-sheet.ts';

const check = new Ajv2020({ allErrors: true, strict: true }).compile(sheetJsonSchema());

describe('the JSON Schema of the sheet', () => {
  it('takes a saved sheet, with the keys of later versions', () => {
    expect(check(savedSheet()), JSON.stringify(check.errors)).toBe(true);
  });

  it('takes the empty sheet of a silent recording', () => {
    expect(check({ ...savedSheet(), words: [], statements: [], notes: [] })).toBe(true);
  });

  const [note] = savedSheet().notes;
  const broken: [string, unknown][] = [
    ['another label', { ...savedSheet(), schema: 'critsheet/9' }],
    ['a role that is none', { ...savedSheet(), notes: [{ ...note, role: 'maybe' }] }],
    ['a rank of nought', { ...savedSheet(), notes: [{ ...note, rank: 0 }] }],
    [
      'a confidence above one',
      { ...savedSheet(), notes: [{ ...note, confidence: { ...note?.confidence, role: 2 } }] },
    ],
    ['words without times', { ...savedSheet(), words: [{ text: 'there' }] }],
    ['no notes', { ...savedSheet(), notes: undefined }],
    ['no object', []],
  ];
  it.each(broken)('refuses %s, as critsheet itself does', (_, sheet) => {
    expect(check(sheet)).toBe(false);
    expect(sheetSchema.safeParse(sheet).success).toBe(false);
  });
});
