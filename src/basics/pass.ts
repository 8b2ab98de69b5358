import { z } from 'zod';

/**
 * A stretch of the recording in which it is known where the shot stood: at `start` seconds on frame `first`, at `end` on
 * `last`, in between in proportion. Frames are fractional shot frames: frame 1001 is seen from 1001 up to 1002, so that of
 * a shot of 48 frames that begins with 1 the sound begins at 1 and ends at 49.
 */
export const passSchema = z.looseObject({
  /** Seconds of the recording, `start` <= `end`. */
  start: z.number().nonnegative(),
  end: z.number().nonnegative(),
  first: z.number(),
  last: z.number(),
  /** What tells it: the shot's own sound, a player's log, a counter in the picture. */
  source: z.enum(['sound', 'log', 'counter']),
  /** How likely it is that the shot was there at all, 0 to 1. */
  confidence: z.number().min(0).max(1),
  /** How many frames the line between the ends may be off. */
  frameError: z.number().nonnegative().optional(),
  /** How many frames the first and the last may be off: where the shot is silent its sound does not tell when it stops. */
  firstError: z.number().nonnegative().optional(),
  lastError: z.number().nonnegative().optional(),
});
export type Pass = z.infer<typeof passSchema>;

/** What is believed before what: a log is written by the player itself, a counter is seen, a sound only heard. */
const TRUST: readonly Pass['source'][] = ['log', 'counter', 'sound'];
/** Passes that meet for less than this, in seconds, merely follow each other. */
const MEETING_SECONDS = 0.25;

/**
 * The passes of several sources as one list in the order of time. Where two tell of the same stretch, the better source is
 * kept whole and the other left out.
 */
export function combinePasses(...lists: readonly (readonly Pass[])[]): Pass[] {
  const kept: Pass[] = [];
  const all = lists.flat().sort((a, b) => TRUST.indexOf(a.source) - TRUST.indexOf(b.source));
  for (const pass of all) {
    const told = kept.some(
      (other) =>
        other.source !== pass.source &&
        Math.min(other.end, pass.end) - Math.max(other.start, pass.start) > MEETING_SECONDS,
    );
    if (!told) kept.push(pass);
  }
  return kept.sort((a, b) => a.start - b.start || a.end - b.end);
}
