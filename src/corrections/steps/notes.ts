import { sharedSeconds } from '../../basics/shared-seconds.ts';
import type { Note, Quote } from '../../notes/note.ts';
import { textOf, wordsWithin } from '../../transcript/words-within.ts';
import type { Reading } from '../correctable.ts';
import { findNote } from '../find-note.ts';

const BY_HAND = 'c-';

/** A new note's id is told by the decision that made it, so that every run gives the same. */
export function idFrom(decisionId: string): string {
  return `${BY_HAND}${decisionId.slice(0, 8)}`;
}

/** Whether a note is there by a person's decision alone: added, or split off another. */
export function isMadeByHand(id: string): boolean {
  return id.startsWith(BY_HAND);
}

/** Makes a note of what another says from a second of the recording on; null where one of the two would have no words. */
export function splitNote(reading: Reading, note: Note, at: number, id: string): Note | null {
  const cut = note.spans.flatMap((span) => cutSpan(reading, span, at));
  const kept = cut.filter((span) => span.start < at);
  const taken = cut.filter((span) => span.start >= at);
  if (kept.length === 0 || taken.length === 0) return null;
  const part = (spans: Quote[]): Note => ({ ...note, spans, mentions: 1 });
  const fresh: Note = { ...part(taken), id, check: ['split off by hand: look at every field'] };
  reading.notes = reading.notes.flatMap((one) =>
    one.id === note.id ? [{ ...part(kept), mentions: note.mentions }, fresh] : [one],
  );
  relink(reading, note.id, id, taken);
  return fresh;
}

/** A span as it is, or its two parts where the second lies inside it between two words. */
function cutSpan({ words }: Reading, span: Quote, at: number): Quote[] {
  if (at <= span.start || at >= span.end) return [span];
  const range = wordsWithin(words, span);
  const next =
    range && words.findIndex((word, i) => i > range.first && i <= range.last && word.start >= at - 0.001);
  if (!range || next === null || next <= range.first) return [span];
  const before = { first: range.first, last: next - 1 };
  const after = { first: next, last: range.last };
  return [
    { ...span, end: words[before.last]?.end ?? at, text: textOf(words, before) },
    { ...span, start: words[next]?.start ?? at, text: textOf(words, after) },
  ];
}

/** Gives a note the statements whose words went to it: from another note, or, with null, from those in none. */
function relink(reading: Reading, from: string | null, to: string, spans: readonly Quote[]): void {
  reading.statements = reading.statements.map((statement) => {
    const isTaken =
      statement.note === from && sharedSeconds([statement], spans) > 0.5 * (statement.end - statement.start);
    return isTaken ? { ...statement, note: to } : statement;
  });
}

/** Makes one note of two; the first one's fields stand. */
export function joinNotes(reading: Reading, note: Note, other: Note): Note {
  const joined: Note = {
    ...note,
    spans: [...note.spans, ...other.spans].sort((a, b) => a.start - b.start),
    mentions: note.mentions + other.mentions,
    options: [...new Set([...note.options, ...other.options])],
    frames: note.frames ?? other.frames,
    amount: note.amount ?? other.amount,
    priority: { ...note.priority, score: Math.max(note.priority.score, other.priority.score) },
  };
  reading.notes = reading.notes.flatMap((one) =>
    one.id === other.id ? [] : [one.id === note.id ? joined : one],
  );
  reading.statements = reading.statements.map((statement) =>
    statement.note === other.id ? { ...statement, note: note.id } : statement,
  );
  return joined;
}

/** Takes a note out. Its words stay among what was said. */
export function dropNote(reading: Reading, note: Note): void {
  reading.notes = reading.notes.filter((one) => one.id !== note.id);
  reading.statements = reading.statements.map((statement) =>
    statement.note === note.id ? { ...statement, note: null } : statement,
  );
}

/** Where a note that a person added stands among the others before anybody says how it is meant. */
const MIDDLING_SCORE = 5;

/** Adds a note made of words that were in none; null where the recording has no words there. */
export function addNote(
  reading: Reading,
  span: { start: number; end: number },
  role: Note['role'],
  id: string,
): Note | null {
  const range = wordsWithin(reading.words, span);
  if (!range) return null;
  const known = findNote(reading.notes, { id, title: '', spans: [span] });
  // A later reading found the note by itself: it must not be there twice.
  if (known) return known;
  const quote: Quote = {
    start: reading.words[range.first]?.start ?? span.start,
    end: reading.words[range.last]?.end ?? span.end,
    text: textOf(reading.words, range),
  };
  const note: Note = {
    id,
    rank: reading.notes.length + 1,
    title: '',
    role,
    basis: 'technical',
    strength: 'should',
    character: null,
    body: [],
    issue: null,
    issueAlternatives: [],
    frames: null,
    amount: null,
    options: [],
    withdrawn: false,
    mentions: 1,
    spans: [quote],
    priority: { score: MIDDLING_SCORE, reasons: ['added by hand'] },
    confidence: { role: 1, issue: 0, body: 0, basis: 0, strength: 0, frames: 0 },
    check: ['added by hand: say what is meant'],
  };
  const titled = { ...note, title: reading.retitle(note) };
  reading.notes = [...reading.notes, titled];
  relink(reading, null, id, [quote]);
  return titled;
}
