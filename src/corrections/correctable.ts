import type { Role } from '../basics/terms.ts';
import type { Note } from '../notes/note.ts';
import type { Word } from '../transcript/transcript.ts';

/** A statement as a sheet keeps it. */
export interface CorrectableStatement {
  id: string;
  start: number;
  end: number;
  text: string;
  role: Role;
  confidence: number;
  note: string | null;
}

/** What of a sheet can be corrected. */
export interface Correctable {
  words: Word[];
  statements: CorrectableStatement[];
  notes: Note[];
  /** What the machine read, where a person changed it since: words by their place in the list, the other lists whole. */
  uncorrected?:
    | { words: Record<string, Word>; statements: CorrectableStatement[]; notes: Note[] }
    | undefined;
}

/** The reading while corrections are applied to it, one after another. */
export interface Reading {
  words: Word[];
  statements: CorrectableStatement[];
  notes: Note[];
  /** Writes a note's title anew from its tags. */
  readonly retitle: (note: Note) => string;
}

/** A sheet as the machine read it. */
export function uncorrect<T extends Correctable>(sheet: T): T {
  const { uncorrected } = sheet;
  if (!uncorrected) return sheet;
  const words = sheet.words.map((word, i) => uncorrected.words[i] ?? word);
  const { statements, notes } = uncorrected;
  return { ...sheet, words, statements, notes, uncorrected: undefined };
}
