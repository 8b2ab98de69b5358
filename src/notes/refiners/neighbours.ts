import type { Frames } from '../note.ts';

/** What placing by neighbours needs to know of a note. */
export interface Placeable {
  readonly frames: Frames | null;
  /** Seconds of the recording at which the note was begun. */
  readonly begun: number;
}

/** Guessed frames, and from what in plain words. */
export interface Guess {
  readonly frames: Frames;
  readonly guessedFrom: string;
}

/** Placed notes further apart than this, in seconds of the recording, are no neighbours of what lies between. */
const NEAR_SECONDS = 45;
/** Neighbours further apart than this, in seconds of the shot, tell nothing of what lies between. */
const NEAR_IN_SHOT_SECONDS = 2;
const CONFIDENCE = 0.3;

/**
 * Frames for a note that has none, from the placed notes said just before and just after it: mentors mostly work through a
 * shot in order. Null where the two do not agree on a place, or one is missing.
 */
export function betweenNeighbours(notes: readonly Placeable[], at: number, fps: number): Guess | null {
  const here = notes[at];
  if (!here || here.frames) return null;
  const isPlaced = (one: Placeable): boolean =>
    one.frames !== null && Math.abs(one.begun - here.begun) <= NEAR_SECONDS;
  const before = notes.slice(0, at).findLast(isPlaced)?.frames;
  const after = notes.slice(at + 1).find(isPlaced)?.frames;
  if (!before || !after || after.first < before.first) return null;
  if (after.first - before.last > NEAR_IN_SHOT_SECONDS * fps) return null;
  const [first, last] = [before.first, Math.max(before.last, after.last)];
  return {
    frames: { first, last, source: 'neighbour', confidence: CONFIDENCE },
    guessedFrom: 'from the notes before and after it',
  };
}
