import { describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { makeSheet } from '../../src/sheet/make-sheet.ts';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import type { Transcript } from '../../src/transcript/transcript.ts';

const transcript: Transcript = {
  schema: 'critsheet-transcript/1',
  recording: { file: 'a.wav', sha256: 'aa', duration: 2.00004 },
  model: { id: 'moonshine-base', sha256: null },
  words: [
    { text: 'lovely', start: 0.1234567, end: 0.5, confidence: 0.98765 },
    { text: 'stuff', start: 0.6, end: 0.9, confidence: 1 },
  ],
};
const statement = {
  id: 's1',
  start: 0.1234567,
  end: 0.9,
  text: 'lovely stuff',
  role: 'aside' as const,
  confidence: 0.5004,
  firstWord: 0,
  lastWord: 1,
  opening: 0,
  repairs: [],
};

describe('makeSheet', () => {
  const sheet = makeSheet({
    transcript,
    shot: shotSchema.parse({}),
    statements: [statement, { ...statement, id: 's2', role: 'fix' }],
    notes: [],
    noteOfStatement: new Map([['s2', 'n1']]),
  });

  it('makes what the schema describes', () => {
    expect(sheetSchema.parse(sheet)).toEqual(sheet);
  });

  it('says of each statement which note it went into, or that it went into none', () => {
    expect(sheet.statements.map(({ id, note }) => [id, note])).toEqual([
      ['s1', null],
      ['s2', 'n1'],
    ]);
  });

  it('keeps of a statement only what the contract names', () => {
    expect(Object.keys(sheet.statements[0] ?? {})).toEqual([
      'id',
      'start',
      'end',
      'text',
      'role',
      'confidence',
      'note',
    ]);
  });

  it('rounds times to the millisecond and confidences to a thousandth', () => {
    expect(sheet.recording.duration).toBe(2);
    expect(sheet.words[0]).toEqual({ text: 'lovely', start: 0.123, end: 0.5, confidence: 0.988 });
    expect(sheet.statements[0]).toMatchObject({ start: 0.123, confidence: 0.5 });
  });
});
