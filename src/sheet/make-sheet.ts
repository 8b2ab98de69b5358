import type { Pass } from '../basics/pass.ts';
import type { Shot } from '../basics/shot.ts';
import type { Note } from '../notes/note.ts';
import type { Statement } from '../statements/statement.ts';
import type { Transcript } from '../transcript/transcript.ts';
import { SHEET_SCHEMA, type Sheet, type SheetStatement } from './sheet.ts';

/** Everything a sheet is made of. */
export interface SheetParts {
  readonly transcript: Transcript;
  readonly shot: Shot;
  readonly statements: readonly Statement[];
  readonly notes: readonly Note[];
  /** From a statement's id to the id of the note it went into. */
  readonly noteOfStatement: ReadonlyMap<string, string>;
  /** Where the shot stood, in the order of time. */
  readonly passes?: readonly Pass[];
}

/** Puts the records of all stages into one sheet. Times are rounded to the millisecond, confidences to a thousandth. */
export function makeSheet(parts: SheetParts): Sheet {
  const { transcript, shot, statements, notes, noteOfStatement, passes = [] } = parts;
  return {
    schema: SHEET_SCHEMA,
    recording: { ...transcript.recording, duration: thousandths(transcript.recording.duration) },
    shot,
    model: transcript.model,
    ...(passes.length > 0 ? { passes: passes.map(rounded) } : {}),
    words: transcript.words.map((word) => ({ ...timed(word), confidence: thousandths(word.confidence) })),
    statements: statements.map((statement) =>
      sheetStatement(statement, noteOfStatement.get(statement.id) ?? null),
    ),
    notes: notes.map((note) => ({ ...note, spans: note.spans.map(timed) })),
  };
}

function sheetStatement(statement: Statement, note: string | null): SheetStatement {
  const { id, start, end, text, role, confidence } = statement;
  return { ...timed({ id, start, end, text, role }), confidence: thousandths(confidence), note };
}

function timed<T extends { start: number; end: number }>(span: T): T {
  return { ...span, start: thousandths(span.start), end: thousandths(span.end) };
}

/** A pass with every number to the thousandth: seconds, frames, errors and confidence alike. */
function rounded(pass: Pass): Pass {
  const { first, last, confidence, frameError, firstError, lastError } = pass;
  const errors = Object.entries({ frameError, firstError, lastError }).flatMap(([key, error]) =>
    error === undefined ? [] : [[key, thousandths(error)] as const],
  );
  return {
    ...timed(pass),
    first: thousandths(first),
    last: thousandths(last),
    confidence: thousandths(confidence),
    ...Object.fromEntries(errors),
  };
}

function thousandths(value: number): number {
  return Math.round(value * 1000) / 1000;
}
