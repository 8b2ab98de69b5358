import type { Evidence, Windows } from './evidence.ts';
import { HOP_SAMPLES } from './frames.ts';

/** One second. */
const PART_WINDOWS = 125;
const REACH_LAGS = 48;
/** A part whose peak is lower says nothing of its lag. */
const LEAST_HEIGHT = 7;
const LEAST_PARTS = 3;
/** More than 0.15 % is no difference of two clocks. */
const MOST_SLOPE = 0.0015;

/**
 * How the lag changes along the windows, as two clocks that differ make it: a line through the lags of parts of a second, by
 * least squares, weighted by how clear each is.
 * @returns the lag at the heard shot's first sample, and how many samples it grows a sample; null where that cannot be told
 */
export function driftOf(
  evidence: Evidence,
  windows: Windows,
  firstWindow: number,
): { lag: number; slope: number } | null {
  const parts: { at: number; lag: number; weight: number }[] = [];
  for (let from = windows.from; from + PART_WINDOWS <= windows.to; from += PART_WINDOWS) {
    const { lag, height } = evidence.peak({ from, to: from + PART_WINDOWS }, REACH_LAGS);
    if (height < LEAST_HEIGHT) continue;
    parts.push({ at: (firstWindow + from + PART_WINDOWS / 2) * HOP_SAMPLES, lag, weight: height });
  }
  if (parts.length < LEAST_PARTS) return null;
  const sum = (of: (part: (typeof parts)[number]) => number) =>
    parts.reduce((total, part) => total + part.weight * of(part), 0);
  const total = sum(() => 1);
  const middle = sum(({ at }) => at) / total;
  const lag = sum((part) => part.lag) / total;
  const slope = sum((part) => (part.at - middle) * (part.lag - lag)) / sum(({ at }) => (at - middle) ** 2);
  return Math.abs(slope) > MOST_SLOPE ? null : { lag: lag - slope * middle, slope };
}
