import type { Note } from '../../notes/note.ts';
import type { CarriedNote, Verdict } from '../previous.ts';
import type { Sheet } from '../sheet.ts';
import { nthTime, oldNote, VERDICT_TITLES } from './asked.ts';

/** An old note in words; each writer puts them into its own form. */
export interface OldLine {
  /** "Plant the left heel, 1040 to 1052" */
  readonly says: string;
  /** "asked for the third time", "ticked off": for brackets behind it. */
  readonly facts: readonly string[];
  /** The words of the new recording that tell what became of it; null where none do. */
  readonly said: string | null;
  /** The note of this sheet that carries it on or takes it back; null where there is none. */
  readonly now: Note | null;
  readonly carried: CarriedNote;
}

export interface SinceLast {
  /** What stands above the groups. */
  readonly says: string;
  readonly groups: readonly {
    readonly verdict: Verdict;
    readonly title: string;
    readonly lines: readonly OldLine[];
  }[];
}

const ORDER: readonly Verdict[] = ['done', 'still-there', 'taken-back', 'not-mentioned'];

/** What became of the notes of the recording before, in groups; null where there was none, or it had no notes. */
export function sinceLast({ previous, notes }: Sheet): SinceLast | null {
  if (!previous || previous.notes.length === 0) return null;
  const groups = ORDER.flatMap((verdict) => {
    const lines = previous.notes.filter((one) => one.verdict === verdict).map((one) => lineOf(one, notes));
    return lines.length > 0 ? [{ verdict, title: VERDICT_TITLES[verdict], lines }] : [];
  });
  return { says: `The notes of ${previous.recording.file}:`, groups };
}

function lineOf(carried: CarriedNote, notes: readonly Note[]): OldLine {
  const { verdict, asked, ticked, confidence, said, newNote } = carried;
  const facts = [
    asked > 1 && verdict !== 'done' && `asked for ${nthTime(asked)}`,
    ticked !== null && 'ticked off',
    confidence < 0.5 && 'unsure',
  ].filter((fact) => fact !== false);
  return {
    says: oldNote(carried),
    facts,
    said: said.length > 0 ? said.map(({ text }) => text).join(' ') : null,
    // A person may have taken the new note out since.
    now: notes.find(({ id }) => id === newNote) ?? null,
    carried,
  };
}
