import { sharedSeconds } from '../basics/shared-seconds.ts';
import type { Note } from '../notes/note.ts';
import type { NoteAnchor } from './corrections.ts';

/** A note is the one that was meant where it holds at least this part of the seconds that were meant. */
const SHARE_MEANT = 0.5;

/** What a decision says of the note it is about. */
export function anchorOf(note: Note): NoteAnchor {
  return { id: note.id, title: note.title, spans: note.spans.map(({ start, end }) => ({ start, end })) };
}

/** The note that is made of the words that were meant; null where no note is any more. */
export function findNote(notes: readonly Note[], anchor: NoteAnchor): Note | null {
  const meant = anchor.spans.reduce((sum, { start, end }) => sum + (end - start), 0);
  let best: { note: Note; shared: number } | null = null;
  for (const note of notes) {
    const shared = sharedSeconds(note.spans, anchor.spans);
    if (shared < SHARE_MEANT * meant || shared <= 0) continue;
    const isBetter = !best || shared > best.shared || (shared === best.shared && note.id === anchor.id);
    if (isBetter) best = { note, shared };
  }
  return best?.note ?? null;
}
