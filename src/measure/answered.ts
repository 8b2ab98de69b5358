import type { Note } from '../notes/note.ts';
import type { Alignment, GoldSpoken } from './align.ts';
import { judgeTags, type Verdicts } from './tags.ts';

/** A gold note, the note that answers it, and what is right in that. */
export interface Answered {
  readonly gold: GoldSpoken;
  readonly note: Note;
  readonly verdicts: Verdicts;
}

/** The pairs whose tags are judged: neither side of them taken back. */
export function answeredNotes({ gold, noteOf }: Alignment): Answered[] {
  return gold.flatMap((one) => {
    const note = noteOf.get(one);
    if (!note || note.withdrawn || one.label.withdrawn) return [];
    return [{ gold: one, note, verdicts: judgeTags(one.label, note) }];
  });
}
