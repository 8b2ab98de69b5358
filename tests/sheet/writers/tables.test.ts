import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { writeCsv } from '../../../src/sheet/writers/csv.ts';
import { writeJsonLines } from '../../../src/sheet/writers/json-lines.ts';
import { savedSheet } from '../saved-sheet.ts';

function titled(title: string): Sheet {
  const [note] = savedSheet().notes;
  return { ...savedSheet(), notes: note ? [{ ...note, title }] : [] };
}

/** Reads by a library other than the one that wrote. */
function rows(text: string): string[][] {
  return parse(text, { bom: true, record_delimiter: '\r\n' });
}

describe('the table for spreadsheets', () => {
  it('holds every note, a row each under the names of the columns', () => {
    const [names = [], ...notes] = rows(writeCsv(savedSheet()));
    const sheet = savedSheet();
    expect(notes).toHaveLength(sheet.notes.length);
    for (const [i, note] of [...sheet.notes].sort((a, b) => a.rank - b.rank).entries()) {
      const cell = (name: string) => notes[i]?.[names.indexOf(name)];
      expect(cell('title')).toBe(note.title);
      expect(cell('rank')).toBe(`${note.rank}`);
      expect(cell('first frame')).toBe(`${note.frames?.first ?? ''}`);
      expect(cell('said')).toBe(note.spans.map((span) => span.text).join(' '));
    }
  });

  // RFC 4180, section 2: CRLF ends each record, the last too (rule 2 allows it); fields with commas, quotes or line breaks
  // stand in double quotes (rule 6), and a quote inside is doubled (rule 7).
  it.each([
    ['a comma', 'b,bb', '"b,bb"'],
    ['a line break', 'b\r\nbb', '"b\r\nbb"'],
    ['a quote', 'b"bb', '"b""bb"'],
    ['nothing special', 'bbb', 'bbb'],
  ])('quotes %s as RFC 4180 says', (_, title, field) => {
    const text = writeCsv(titled(title));
    expect(text).toContain(`\r\n1,${field},`);
    expect(rows(text)[1]?.[1]).toBe(title);
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '').includes('\n')).toBe(false);
  });

  it('begins with the mark by which spreadsheets know UTF-8', () => {
    expect(Buffer.from(writeCsv(savedSheet()), 'utf8').subarray(0, 3).toString('hex')).toBe('efbbbf');
  });

  // The characters that begin a formula, by OWASP's page on CSV injection.
  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '=HYPERLINK("http://x.example","x")'])(
    'hands %j over as text and never as a formula',
    (title) => {
      expect(rows(writeCsv(titled(title)))[1]?.[1]).toBe(`'${title}`);
    },
  );

  it('leaves numbers below zero numbers', () => {
    const [note] = savedSheet().notes;
    const frames = { first: -8, last: -2, source: 'spoken' as const, confidence: 1 };
    const sheet = { ...savedSheet(), notes: note ? [{ ...note, frames }] : [] };
    expect(rows(writeCsv(sheet))[1]?.slice(3, 5)).toEqual(['-8', '-2']);
  });
});

describe('the notes a line each', () => {
  it('are the notes of the sheet, in the order of ranks, and say whose they are', () => {
    const sheet = savedSheet();
    const text = writeJsonLines(sheet);
    expect(text.endsWith('\n')).toBe(true);
    const lines = text
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines).toHaveLength(sheet.notes.length);
    for (const [i, note] of [...sheet.notes].sort((a, b) => a.rank - b.rank).entries()) {
      expect(lines[i]).toMatchObject({ ...note, shot: { name: sheet.shot.name } });
      expect(lines[i].recording.sha256).toBe(sheet.recording.sha256);
    }
  });

  it('are no line at all where there is no note', () => {
    expect(writeJsonLines({ ...savedSheet(), notes: [] })).toBe('');
  });

  it('stay one line whatever was said', () => {
    expect(writeJsonLines(titled('a\nb\r\u2028c')).match(/\n/g)).toHaveLength(1);
  });
});
