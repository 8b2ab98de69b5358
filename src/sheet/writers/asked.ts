import type { CarriedNote, Previous, Verdict } from '../previous.ts';
import { frameRange } from './wording.ts';

/** What a reader is told of each verdict; the same words everywhere. */
export const VERDICT_TITLES: Readonly<Record<Verdict, string>> = {
  done: 'Done',
  'still-there': 'Still there',
  'taken-back': 'Taken back',
  'not-mentioned': 'Not mentioned',
};

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
  const before = carriedOn(previous, noteId);
  if (!before) return null;
  const ticked = before.ticked === null ? '' : '; it was ticked off';
  return `${nthTime(before.asked)} (last time: ${oldNote(before)}${ticked})`;
}

/** "asked for the third time"; null for a note that is asked for the first time. */
export function askedMark(previous: Previous | undefined, noteId: string): string | null {
  const before = carriedOn(previous, noteId);
  return before ? `asked for ${nthTime(before.asked)}` : null;
}

/** The old note that a new one carries on; of several that one which was asked for most often. */
export function carriedOn(previous: Previous | undefined, noteId: string): CarriedNote | undefined {
  return previous?.notes
    .filter(({ newNote, verdict }) => newNote === noteId && verdict === 'still-there')
    .sort((a, b) => b.asked - a.asked)[0];
}

/** An old note in a line: its title and where it was. */
export function oldNote({ note }: CarriedNote): string {
  const frames = frameRange(note);
  return frames ? `${note.title}, ${frames}` : note.title;
}
