import { stringify } from 'csv-stringify/sync';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../sheet.ts';
import { askedBefore } from './asked.ts';
import { amountOfNote, placeOfNote } from './wording.ts';
import type { Writer } from './writer.ts';

type Cell = string | number | null;

const COLUMNS: readonly (readonly [name: string, cell: (note: Note, sheet: Sheet) => Cell])[] = [
  ['rank', (note) => note.rank],
  ['title', (note) => note.title],
  ['role', (note) => note.role],
  ['first frame', (note) => note.frames?.first ?? null],
  ['last frame', (note) => note.frames?.last ?? null],
  ['frames known by', (note) => note.frames?.source ?? null],
  ['where', placeOfNote],
  ['fault', (note) => note.issue],
  ['amount', amountOfNote],
  ['strength', (note) => note.strength],
  ['basis', (note) => note.basis],
  ['ways out', (note) => note.options.join(' / ')],
  ['taken back', (note) => (note.withdrawn ? 'yes' : '')],
  ['mentions', (note) => note.mentions],
  ['asked for', (note, { previous }) => askedBefore(previous, note.id)],
  ['look at', (note) => note.check.join('; ')],
  ['at second', (note) => note.spans[0]?.start ?? null],
  ['said', (note) => note.spans.map((span) => span.text).join(' ')],
  ['id', (note) => note.id],
];

/**
 * The notes as a table, a row each in the order of ranks, the names of the columns first: RFC 4180 with CRLF, and a byte
 * order mark, without which spreadsheets take UTF-8 for something else. A text that a spreadsheet would take for a
 * formula begins with an apostrophe, because what was said must never be run; numbers stay numbers.
 */
export function writeCsv(sheet: Sheet): string {
  const ranked = [...sheet.notes].sort((a, b) => a.rank - b.rank);
  return stringify(
    [COLUMNS.map(([name]) => name), ...ranked.map((note) => COLUMNS.map(([, cell]) => cell(note, sheet)))],
    {
      bom: true,
      record_delimiter: '\r\n',
      escape_formulas: true,
      cast: { number: (value) => ({ value: String(value), escape_formulas: false }) },
    },
  );
}

export const csv: Writer<Sheet> = {
  ending: '.sheet.csv',
  says: 'the notes as a table for spreadsheets',
  leavesOut:
    'the words and statements that are in no note, other readings, the confidences, older notes that are not asked for again',
  write: writeCsv,
};
