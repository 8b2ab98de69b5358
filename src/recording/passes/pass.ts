import { z } from 'zod';

/**
 * A stretch of the recording in which it is known where the shot stood: at `start` seconds on frame `first`, at `end` on
 * `last`, in between in proportion. Frames are fractional shot frames: frame 1001 is seen from 1001 up to 1002, so that of a
 * shot of 48 frames that begins with 1 the sound begins at 1 and ends at 49.
 */
export const passSchema = z.object({
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
  frameError: z.number().nonnegative(),
  /** How many frames the first and the last frame may be off: where the shot is silent, its sound does not tell when it stops. */
  firstError: z.number().nonnegative(),
  lastError: z.number().nonnegative(),
});
export type Pass = z.infer<typeof passSchema>;
