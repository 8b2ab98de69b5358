/** Frame rates as they are, and as they are spoken of. */

/** A rate as a fraction: `frames` in `seconds`; 29.97 is 30000 in 1001. */
export interface ExactRate {
  readonly frames: number;
  readonly seconds: number;
  /** frames / seconds. */
  readonly perSecond: number;
  /** Numbers a timecode has in one of its seconds: 30 at 29.97; null where no timecode counts at this rate. */
  readonly timecodeBase: number | null;
}

/** Rates that are also run a thousandth slower, for television (SMPTE ST 12-1, from memory). */
const SLOWED: readonly number[] = [24, 30, 48, 60, 120];
/** People write 23.98 or 23.976 and mean 24000/1001 = 23.97602. */
const SLOWED_TOLERANCE = 0.005;
/** Timecode as handled here has two digits of frames. */
const MOST_TIMECODE_FRAMES = 99;

/**
 * The exact rate that a written one means: 23.976 is 24000/1001, 29.97 is 30000/1001, 47.95 is 48000/1001, 59.94 is
 * 60000/1001; any other stays what it is.
 * @param fps frames a second, above 0
 * @throws RangeError where it is not
 */
export function exactRate(fps: number): ExactRate {
  if (!(fps > 0 && Number.isFinite(fps))) throw new RangeError(`no frame rate: ${fps}`);
  const slowed = SLOWED.find((whole) => Math.abs(fps - (whole * 1000) / 1001) < SLOWED_TOLERANCE);
  if (slowed) return rate(slowed * 1000, 1001, slowed);
  return rate(fps, 1, Number.isInteger(fps) ? fps : null);
}

function rate(frames: number, seconds: number, base: number | null): ExactRate {
  const timecodeBase = base !== null && base <= MOST_TIMECODE_FRAMES ? base : null;
  return { frames, seconds, perSecond: frames / seconds, timecodeBase };
}
