import type { Note } from '../notes/note.ts';
import type { Transcript } from '../transcript/transcript.ts';
import { type Correctable, type Reading, uncorrect } from './correctable.ts';
import type { Decision } from './corrections.ts';
import { standing } from './decisions.ts';
import { findNote } from './find-note.ts';
import { addNote, dropNote, idFrom, joinNotes, splitNote } from './steps/notes.ts';
import { setFields } from './steps/set.ts';
import { findWord, forgetMendings, mended, replaceWord } from './steps/word.ts';

/** A decision that could not be followed, and why, as the rest of a sentence. */
export interface Unfit {
  readonly decision: Decision;
  readonly why: string;
}

export interface Applied<T> {
  readonly sheet: T;
  /** Decisions that no longer fit what was read. */
  readonly unfit: readonly Unfit[];
}

const NO_NOTE = 'no note is made of those words any more';

/**
 * Applies what a person decided to a sheet, in the order in which it was decided. What the machine read is kept beside it
 * under `uncorrected`, so that everything can be undone; a sheet that was corrected before is begun from there.
 *
 * @param retitle Writes a note's title from its tags.
 */
export function applyCorrections<T extends Correctable>(
  sheet: T,
  decisions: readonly Decision[],
  retitle: (note: Note) => string,
): Applied<T> {
  const read = uncorrect(sheet);
  const { words, statements, notes } = read;
  const reading: Reading = { words, statements, notes, retitle };
  forgetMendings(reading);
  const unfit: Unfit[] = [];
  const steps = standing(decisions);
  for (const decision of steps) {
    const why = follow(reading, decision);
    if (why) unfit.push({ decision, why });
  }
  if (steps.length === 0) return { sheet: { ...read, ...lists(reading) }, unfit };
  const changed = Object.fromEntries(
    words.flatMap((word, i) => (reading.words[i] === word ? [] : [[String(i), word]])),
  );
  const corrected = { ...read, ...lists(reading), notes: ranked(reading.notes) };
  return { sheet: { ...corrected, uncorrected: { words: changed, statements, notes } }, unfit };
}

/** A transcript with the words that a person mended, for a reading that begins from them. */
export function mendWords(transcript: Transcript, decisions: readonly Decision[]): Transcript {
  let { words } = transcript;
  for (const decision of standing(decisions)) {
    if (decision.do !== 'word') continue;
    const at = findWord(words, decision);
    const word = at === null ? undefined : words[at];
    if (at !== null && word && word.text !== decision.text)
      words = words.with(at, mended(word, decision.text));
  }
  return { ...transcript, words };
}

function lists({ words, statements, notes }: Reading): Pick<Correctable, 'words' | 'statements' | 'notes'> {
  return { words, statements, notes };
}

/** Follows one decision; a reason where it does not fit. */
function follow(reading: Reading, decision: Decision): string | null {
  if (decision.do === 'undo') return null;
  if (decision.do === 'word') {
    const at = findWord(reading.words, decision);
    const word = at === null ? undefined : reading.words[at];
    if (at === null || !word) return `"${decision.word.text}" is not heard there any more`;
    if (word.text !== decision.text) replaceWord(reading, at, mended(word, decision.text));
    return null;
  }
  if (decision.do === 'add') {
    const added = addNote(reading, decision.words, decision.role, idFrom(decision.id));
    return added ? null : 'no words are heard there any more';
  }
  const note = findNote(reading.notes, decision.note);
  if (!note) return NO_NOTE;
  const put = (changed: Note): void => {
    reading.notes = reading.notes.map((one) => (one.id === note.id ? changed : one));
  };
  switch (decision.do) {
    case 'set':
      put(setFields(note, decision.fields, reading));
      return null;
    case 'settle':
      put({ ...note, check: [], settled: true });
      return null;
    case 'drop':
      dropNote(reading, note);
      return null;
    case 'split':
      return splitNote(reading, note, decision.from, idFrom(decision.id))
        ? null
        : 'the note has no words on one side of that place';
    case 'join': {
      const other = findNote(reading.notes, decision.with);
      if (!other) return NO_NOTE;
      if (other.id !== note.id) joinNotes(reading, note, other);
      return null;
    }
  }
}

/** Ranks anew: fixes, optional ones after them, keeps, and last what was taken back; within each by score. */
function ranked(notes: readonly Note[]): Note[] {
  const place = (note: Note): number =>
    note.withdrawn ? 3 : note.role === 'keep' ? 2 : note.strength === 'could' ? 1 : 0;
  return [...notes]
    .sort((a, b) => place(a) - place(b) || b.priority.score - a.priority.score || a.rank - b.rank)
    .map((note, i) => ({ ...note, rank: i + 1 }));
}
