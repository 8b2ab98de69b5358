import { type Evidence, peakOf, type Response, type Windows } from './evidence.ts';
import { BINS, HOP_SAMPLES, lagsOf, turnOf } from './frames.ts';

/** A quarter of a second. */
const PART_WINDOWS = 32;
const REACH_LAGS = 24;
/** Two machines' clocks differ by less than this. */
const MOST_SLOPE = 200e-6;
/** Slopes are tried so closely that the lag at either end changes by so many samples from one to the next. */
const STEP_LAGS = 0.5;
/** A slope that explains no more than this beyond no slope at all is not believed. */
const LEAST_GAIN = 1.01;

/** A line of lags: `lag` samples at the heard shot's first sample, `slope` more a sample. */
export interface Drift {
  readonly lag: number;
  readonly slope: number;
}

/**
 * How the lag changes along the windows, as two clocks that differ make it: among lines of all slopes, the one along which the
 * phase-transformed correlation adds up to the highest peak.
 */
export function driftOf(evidence: Evidence, windows: Windows, firstWindow: number): Drift {
  const parts: { at: number; cross: Response }[] = [];
  const middle = ((windows.from + windows.to) / 2 + firstWindow) * HOP_SAMPLES;
  for (let from = windows.from; from < windows.to; from += PART_WINDOWS) {
    const part = { from, to: Math.min(windows.to, from + PART_WINDOWS) };
    const at = ((part.from + part.to) / 2 + firstWindow) * HOP_SAMPLES - middle;
    parts.push({ at, cross: evidence.crossSpectrum(part) });
  }
  const halfSpan = ((windows.to - windows.from) * HOP_SAMPLES) / 2;
  const step = STEP_LAGS / halfSpan;
  const steps = Math.floor(MOST_SLOPE / step);
  let best = { lag: 0, slope: 0, peak: 0 };
  for (let k = 0; k <= 2 * steps; k++) {
    // From the middle outwards, so that of equal ones the least is taken.
    const slope = step * (k % 2 === 0 ? k / 2 : -(k + 1) / 2);
    const { lag, peak } = along(parts, slope);
    if (peak > best.peak * (k === 0 ? 1 : LEAST_GAIN)) best = { lag, slope, peak };
  }
  return { lag: best.lag - best.slope * middle, slope: best.slope };
}

function along(
  parts: readonly { at: number; cross: Response }[],
  slope: number,
): { lag: number; peak: number } {
  const re = new Float64Array(BINS);
  const im = new Float64Array(BINS);
  for (const { at, cross } of parts) {
    for (let bin = 0; bin < BINS; bin++) {
      const turn = -turnOf(bin) * slope * at;
      const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
      const [x, y] = [cross.re[bin] as number, cross.im[bin] as number];
      re[bin] = (re[bin] as number) + x * cos - y * sin;
      im[bin] = (im[bin] as number) + x * sin + y * cos;
    }
  }
  const { lag, peak } = peakOf(lagsOf(re, im), REACH_LAGS);
  return { lag, peak };
}
