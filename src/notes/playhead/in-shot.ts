import type { Shot } from '../../basics/shot.ts';
import type { Evidence } from '../evidence.ts';

/** Frames told by a place in the shot as a whole: "at the end", "halfway", "on the last frame". */
export interface InShot {
  readonly first: number;
  readonly last: number;
  readonly confidence: number;
  /** What was said, for whoever checks. */
  readonly because: string;
}

/** "At the end" is about the last second; what our critiques label so lasts from a frame to more than two seconds. */
const END_SECONDS = 1;
/** Two thirds of our critiques' notes that say so and have frames lie there; half of those on a first or last frame. */
const CONFIDENCE = 0.6;
const ONE_FRAME_CONFIDENCE = 0.5;

/** The place in the shot that a note's words name; null where they name none, or nobody said how long the shot is. */
export function placeInShot({ hits }: Evidence, { first, last, fps }: Shot): InShot | null {
  const means = new Set(hits.filter(({ lexicon }) => lexicon === 'player').map((hit) => hit.means));
  const long = Math.round(END_SECONDS * fps);
  if (means.has('first-frame'))
    return { first, last: first, confidence: ONE_FRAME_CONFIDENCE, because: 'from "first frame"' };
  if (means.has('shot-start'))
    return {
      first,
      last: inside(first + long - 1, last),
      confidence: CONFIDENCE,
      because: 'from "at the start"',
    };
  if (last === null) return null;
  if (means.has('last-frame'))
    return { first: last, last, confidence: ONE_FRAME_CONFIDENCE, because: 'from "last frame"' };
  if (means.has('shot-end'))
    return {
      first: Math.max(first, last - long + 1),
      last,
      confidence: CONFIDENCE,
      because: 'from "at the end"',
    };
  if (!means.has('shot-middle')) return null;
  const middle = (first + last) / 2;
  return {
    first: Math.max(first, Math.round(middle - long / 2)),
    last: inside(Math.round(middle + long / 2), last),
    confidence: CONFIDENCE,
    because: 'from "halfway"',
  };
}

function inside(frame: number, last: number | null): number {
  return last === null ? frame : Math.min(frame, last);
}
