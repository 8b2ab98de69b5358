import { describe, expect, it } from 'vitest';
import {
  SHEET_AND_TRANSCRIPT_WRITERS,
  SHEET_WRITERS,
  TRANSCRIPT_WRITERS,
  transcriptOf,
} from '../../../src/sheet/writers/writers.ts';
import { transcriptSchema } from '../../../src/transcript/transcript.ts';
import { savedSheet, savedSheetText } from '../saved-sheet.ts';

describe('the tables of written files', () => {
  it('name every format that the contract names', () => {
    expect(Object.keys(SHEET_WRITERS)).toEqual(expect.arrayContaining(['json', 'md']));
    expect(Object.keys(TRANSCRIPT_WRITERS)).toEqual(expect.arrayContaining(['vtt', 'srt', 'txt', 'json']));
  });

  it('give each format a file of its own', () => {
    const endings = [...Object.values(SHEET_WRITERS), ...Object.values(TRANSCRIPT_WRITERS)].map(
      (one) => one.ending,
    );
    expect(new Set(endings).size).toBe(endings.length);
  });

  it('write, from a sheet, the sheet as JSON and not its transcript', () => {
    expect(SHEET_AND_TRANSCRIPT_WRITERS.json).toBe(SHEET_WRITERS.json);
  });
});

describe('JSON', () => {
  it('is the record again when it is read', () => {
    expect(SHEET_WRITERS.json?.write(savedSheet())).toBe(savedSheetText());
    const transcript = transcriptOf(savedSheet());
    const text = TRANSCRIPT_WRITERS.json?.write(transcript) ?? '';
    expect(transcriptSchema.parse(JSON.parse(text))).toEqual(transcript);
  });

  it('takes one line a word', () => {
    expect(
      savedSheetText()
        .split('\n')
        .filter((line) => line.includes('"text":"skating"')),
    ).toEqual([
      expect.stringMatching(/^ {4}\{"text":"skating","start":[\d.]+,"end":[\d.]+,"confidence":[\d.]+\},$/),
    ]);
  });
});

describe('plain text', () => {
  it('holds all words, a paragraph for each stretch of talk', () => {
    const text = TRANSCRIPT_WRITERS.txt?.write(transcriptOf(savedSheet())) ?? '';
    expect(text.split('\n\n')).toHaveLength(2);
    expect(text.split(/\s+/).filter(Boolean)).toEqual(savedSheet().words.map((word) => word.text));
  });
});
