import type { Frames } from '../note.ts';
import type { Guess } from './neighbours.ts';

/** What placing by a moment of the action needs to know of a note. */
export interface Timed {
  readonly frames: Frames | null;
  readonly guessedFrom: string | null;
  readonly character: string | null;
  /** The moments of the action that its words name: landing, turn. */
  readonly moments: ReadonlySet<string>;
}

/** Places of one moment further apart than this, in seconds of the shot, are two such moments. */
const ONE_MOMENT_SECONDS = 0.5;
/** Of our critiques' notes on a landing or a takeoff 11 of 19 lay within six frames of the others on it. */
const CONFIDENCE = 0.5;

/**
 * Frames for a note that has none but names a moment of the action, "when he lands", from the notes that name the same
 * moment of the same character and have frames. Null where there is none, or where they do not agree on one place.
 */
export function atSameMoment(notes: readonly Timed[], at: number, fps: number): Guess | null {
  const here = notes[at];
  if (!here || here.frames) return null;
  for (const moment of here.moments) {
    const places = notes.flatMap(({ frames, guessedFrom, character, moments }) => {
      const same = character === here.character || character === null || here.character === null;
      return frames && guessedFrom === null && same && moments.has(moment) ? [frames] : [];
    });
    if (places.length === 0) continue;
    const [first, last] = [
      Math.min(...places.map((one) => one.first)),
      Math.max(...places.map((one) => one.last)),
    ];
    if (last - first > ONE_MOMENT_SECONDS * fps) continue;
    return {
      frames: { first, last, source: 'neighbour', confidence: CONFIDENCE },
      guessedFrom: `from another note on the same moment (${moment})`,
    };
  }
  return null;
}
