import { SAMPLE_RATE } from '../../recording/recording.ts';

const STEP_SAMPLES = 160;
/** Wide enough to be a pause between words and not the closure inside one. */
const WINDOW_STEPS = 15;

/**
 * The quietest place in the middle half of a stretch of sound: the best place to cut it in two.
 *
 * @returns A sample's index; the exact middle where the stretch is too short to choose.
 */
export function quietestSample(samples: Float32Array): number {
  const steps = Math.floor(samples.length / STEP_SAMPLES);
  const energy = new Float64Array(steps + 1);
  for (let step = 0; step < steps; step++) {
    let sum = 0;
    for (const sample of samples.subarray(step * STEP_SAMPLES, (step + 1) * STEP_SAMPLES))
      sum += sample * sample;
    energy[step + 1] = (energy[step] ?? 0) + sum;
  }
  let best = samples.length >> 1;
  let least = Number.POSITIVE_INFINITY;
  // From the middle outwards, so that of places equally quiet the one nearest the middle wins.
  const middle = (steps - WINDOW_STEPS) >> 1;
  for (let distance = 0; distance <= steps / 4; distance++) {
    for (const step of [middle - distance, middle + distance]) {
      if (step < 0 || step + WINDOW_STEPS > steps) continue;
      const sum = (energy[step + WINDOW_STEPS] ?? 0) - (energy[step] ?? 0);
      if (sum < least) [best, least] = [(step + WINDOW_STEPS / 2) * STEP_SAMPLES, sum];
    }
  }
  return Math.round(best);
}

/** Seconds of so many samples. */
export function secondsOf(samples: Float32Array): number {
  return samples.length / SAMPLE_RATE;
}
