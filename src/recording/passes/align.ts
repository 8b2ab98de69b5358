import { driftOf } from './drift.ts';
import { Evidence, type Windows } from './evidence.ts';
import { HOP_SAMPLES, spectraOf, windowsOf } from './frames.ts';
import type { HeardShot } from './heard.ts';

/** The shot's sound laid against the recording, and what each window of it says. */
export interface Alignment {
  readonly heard: HeardShot;
  /** Whether its waveform was followed as a whole, or the loudness of its bands, where a stretcher moved pieces of it about. */
  readonly by: 'waveform' | 'bands';
  /** Sample of the recording, 16 kHz, at which the first sample of `heard` lies or would lie. */
  readonly offset: number;
  /** Recording samples a sample of `heard`: 1 but for the difference of two clocks. */
  readonly pace: number;
  /** Window of `heard` at which `nats` begins; windows are HOP_SAMPLES apart. */
  readonly firstWindow: number;
  /** For each window, how much likelier the recording is with the shot heard than without. */
  readonly nats: Float64Array;
  /** Windows, counted from `firstWindow`, in which it is heard. */
  readonly windows: Windows;
  /** Sum of their nats: how well this explains the sound, against other ways to explain it. */
  readonly total: number;
  /** The same with chance taken out: whether it is the shot at all. */
  readonly evidence: number;
  /** How far off, in samples, the shot may be laid. */
  readonly errorSamples: number;
}

/** Where a play may be, in 16 kHz samples: `offset` as in an alignment, `from` and `to` in the heard shot. */
export interface Place {
  readonly offset: number;
  readonly from: number;
  readonly to: number;
}

/** A guess's offset is good to this: 2 ms. */
const REACH_LAGS = 32;
/** Shorter than this, 0.2 s, nothing is told from a chance likeness of two clicks. */
const LEAST_WINDOWS = 25;
const ROUNDS = 3;
/** Half a window's hop, as far as an end can fall beside; the lag itself is good to a sample or two. */
const ERROR_SAMPLES = HOP_SAMPLES / 2;
/** In talk without the shot, phases agree by chance up to 4 standard deviations at the best lag. */
const LEAST_AGREEMENT = 4.5;

/**
 * Lays the shot's sound against the recording where a guess says it is heard, finds the lag to a sample, and in which windows it
 * is heard: those whose sum is the greatest.
 * @param reachSeconds how far before and after the place it may be heard
 * @param knownPace where the two clocks' difference is known already
 * @returns null where nothing is left of the guess
 */
export function align(
  recording: Float32Array,
  heard: HeardShot,
  place: Place,
  reachSeconds: number,
  knownPace?: number,
): Alignment | null {
  const reach = Math.round((reachSeconds * 16000) / HOP_SAMPLES);
  const [from, to] = [Math.floor(place.from / HOP_SAMPLES), Math.ceil(place.to / HOP_SAMPLES)];
  const firstWindow = Math.max(0, from - reach);
  const count = Math.min(heard.windows, to + reach) - firstWindow;
  const shot = heard.spectra(firstWindow, count);
  let { offset } = place;
  let pace = knownPace ?? 1;
  const lay = ({ from: begin, to: end }: Windows = { from: 0, to: count }) => {
    const middleOf = (k: number) => Math.round(offset + pace * (firstWindow + begin + k) * HOP_SAMPLES);
    return new Evidence(spectraOf(recording, end - begin, middleOf), windowsOf(shot, begin, end - begin));
  };
  let windows: Windows = { from: Math.max(0, from - firstWindow), to: Math.min(count, to - firstWindow) };
  const guessed = windows.to - windows.from;
  // What is guessed first, and only then what lies beside it: most guesses end here.
  const first = lay(windows);
  const { lag } = first.peak({ from: 0, to: guessed }, REACH_LAGS);
  if (Math.abs(mean(first.agreements(lag))) * Math.sqrt(guessed) < LEAST_AGREEMENT) return null;
  offset += lag;
  let evidence = lay();
  windows = agreeing(evidence.agreements(), windows);
  let nats = evidence.likelihoods(windows);
  for (let round = 0; round < ROUNDS; round++) {
    const before = windows;
    windows = likeliest(nats);
    if (windows.to - windows.from < LEAST_WINDOWS) return null;
    const settled = windows.from === before.from && windows.to === before.to;
    if (settled && (round >= 2 || knownPace !== undefined)) break;
    if (round < 2 && knownPace === undefined) {
      const drift = driftOf(evidence, windows, firstWindow);
      if (drift.lag !== 0 || drift.slope !== 0) {
        offset += drift.lag;
        pace += drift.slope;
        evidence = lay();
      }
    }
    nats = evidence.likelihoods(windows);
  }
  windows = likeliest(nats);
  if (windows.to - windows.from < LEAST_WINDOWS) return null;
  let total = 0;
  for (let k = windows.from; k < windows.to; k++) total += nats[k] as number;
  return {
    ...{ heard, by: 'waveform', offset, pace, firstWindow, nats, windows, total },
    evidence: evidence.tried(windows),
    errorSamples: ERROR_SAMPLES,
  };
}

/**
 * The part of the guessed windows in which the shot seems to be heard, judged by phases alone. A path that was fitted over windows
 * without the shot would say that the shot is not heard, the quieter they are the more firmly.
 */
function agreeing(agreements: Float64Array, guessed: Windows): Windows {
  const usual = mean(agreements.subarray(guessed.from, guessed.to));
  const best = likeliest(
    agreements.map((z) => Math.sign(usual) * z - Math.abs(usual) / 2),
    guessed.from,
    guessed.to,
  );
  return best.to - best.from < LEAST_WINDOWS ? guessed : best;
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}

/** The stretch of windows whose sum is greatest (J. Kadane's scan). */
export function likeliest(nats: Float64Array, from = 0, to = nats.length): Windows {
  let best = { from, to: from };
  let most = 0;
  let sum = 0;
  let start = from;
  for (let k = from; k < to; k++) {
    if (sum <= 0) [sum, start] = [0, k];
    sum += nats[k] as number;
    if (sum > most) [most, best] = [sum, { from: start, to: k + 1 }];
  }
  return best;
}
