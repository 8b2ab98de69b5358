import type { CarriedNote, Previous } from '../previous.ts';
import { frameRange } from './wording.ts';

const ORDINALS = [
  'first',
  'second',
  'third',
  'fourth',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
];

/** "the third time"; from the eleventh on in digits. */
export function nthTime(count: number): string {
  const ordinal = ORDINALS[count - 1];
  return ordinal ? `the ${ordinal} time` : `time number ${count}`;
}

/** "the second time (last time: Plant the left heel, 1040 to 1052)"; null for a note that is asked for the first time. */
export function askedBefore(previous: Previous | undefined, noteId: string): string | null {
  const before = previous?.notes.find(
    ({ newNote, verdict }) => newNote === noteId && verdict === 'still-there',
  );
  if (!before) return null;
  const ticked = before.ticked === null ? '' : '; it was ticked off';
  return `${nthTime(before.asked)} (last time: ${oldNote(before)}${ticked})`;
}

/** An old note in a line: its title and where it was. */
export function oldNote({ note }: CarriedNote): string {
  const frames = frameRange(note);
  return frames ? `${note.title}, ${frames}` : note.title;
}
