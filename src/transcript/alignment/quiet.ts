import type { Span } from '../../basics/span.ts';
import { SAMPLE_RATE } from '../../recording/recording.ts';

/** Seconds between two loudness values. */
export const LOUDNESS_STEP = 0.01;
const STEP_SAMPLES = SAMPLE_RATE * LOUDNESS_STEP;
const WINDOW_SAMPLES = 400;
/** Samples of one voice activity value. */
const VOICE_SAMPLES = 512;

/** Shares of the way from the sound's floor to its peak, in decibels: below the first it is quiet whatever else. */
const QUIET_SHARE = 0.17;
/** Below this one it is quiet where nobody seems to speak. */
const UNVOICED_SHARE = 0.6;
const VOICED = 0.5;
/** Shorter quiet is the closure of a "t" or "k" inside a word. */
const SHORTEST_PAUSE = 0.13;
/** A click inside a pause is no end of the pause. */
const CLICK = 0.03;

/** Zeros that a gate or a programme put in say nothing about how quiet the room was. */
const DIGITAL_SILENCE = -85;

/** Loudness in decibels below full scale, one value each LOUDNESS_STEP, over 25 ms. */
export function loudness(samples: Float32Array): Float32Array {
  const steps = Math.max(1, Math.floor(samples.length / STEP_SAMPLES));
  const out = new Float32Array(steps);
  for (let step = 0; step < steps; step++) {
    const middle = step * STEP_SAMPLES + STEP_SAMPLES / 2;
    const window = samples.subarray(Math.max(0, middle - WINDOW_SAMPLES / 2), middle + WINDOW_SAMPLES / 2);
    let energy = 0;
    for (const sample of window) energy += sample * sample;
    out[step] = 10 * Math.log10(energy / Math.max(1, window.length) + 1e-9);
  }
  return out;
}

/**
 * Finds the pauses in a stretch of speech: at least 0.13 s of quiet, and any quiet at the very ends.
 *
 * @param levels What `loudness` gave.
 * @param voice Speech probability for each 512 samples, where known: it tells breath and room noise from soft speech.
 * @returns Spans in seconds, in order, apart from one another.
 */
export function findPauses(levels: Float32Array, voice?: Float32Array): Span[] {
  const sorted = levels.filter((level) => level > DIGITAL_SILENCE).sort();
  const floor = sorted[Math.floor(sorted.length * 0.1)] ?? 0;
  const range = (sorted[Math.floor(sorted.length * 0.95)] ?? 0) - floor;
  const isQuiet = (step: number): boolean => {
    const level = levels[step] ?? 0;
    if (level < floor + QUIET_SHARE * range) return true;
    const probability =
      voice?.[Math.min(voice.length - 1, Math.floor((step * STEP_SAMPLES) / VOICE_SAMPLES))];
    return probability !== undefined && probability < VOICED && level < floor + UNVOICED_SHARE * range;
  };
  const pauses: Span[] = [];
  let from = -1;
  for (let step = 0; step <= levels.length; step++) {
    const quiet = step < levels.length && isQuiet(step);
    if (quiet && from < 0) from = step;
    if (quiet || from < 0) continue;
    const pause = { start: from * LOUDNESS_STEP, end: step * LOUDNESS_STEP };
    const atAnEnd = from === 0 || step === levels.length;
    if (atAnEnd || pause.end - pause.start >= SHORTEST_PAUSE) append(pauses, pause);
    from = -1;
  }
  return pauses;
}

function append(pauses: Span[], pause: Span): void {
  const before = pauses.at(-1);
  if (before && pause.start - before.end < CLICK) {
    pauses[pauses.length - 1] = { start: before.start, end: pause.end };
  } else {
    pauses.push(pause);
  }
}
