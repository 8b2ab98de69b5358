import { highPass } from './high-pass.ts';

/** Mains hum and most of a machine's rumble lie below, a voice's words above. */
const HUM_HERTZ = 100;
const STEP_SAMPLES = 512;
/** The low sound that is there at nearly all times … */
const FLOOR_SHARE = 0.2;
/** … against the voice at its loudest … */
const VOICE_SHARE = 0.9;
/** … is a hum from this share of its power on: 13 dB below it. Spoken talks with hum lie 1 to 12 dB below, others 15 or more but for 1 in 90. */
const HUM_POWER = 0.05;

/**
 * A stretch of sound without the steady hum under it, where there is one; where there is none, the very same samples. Hum
 * is told by being there between the words as well, so that a deep voice is left as it is.
 */
export function withoutHum(samples: Float32Array): Float32Array {
  const high = highPass(samples, HUM_HERTZ);
  const low = samples.map((sample, index) => sample - (high[index] ?? 0));
  const floor = share(powers(low), FLOOR_SHARE);
  return floor > HUM_POWER * share(powers(high), VOICE_SHARE) ? high : samples;
}

/** The mean square of each step. */
function powers(samples: Float32Array): Float64Array {
  return Float64Array.from({ length: Math.floor(samples.length / STEP_SAMPLES) }, (_, step) => {
    let sum = 0;
    for (let i = step * STEP_SAMPLES; i < (step + 1) * STEP_SAMPLES; i++) sum += (samples[i] as number) ** 2;
    return sum / STEP_SAMPLES;
  });
}

/** The value that so great a share of the values lies below; 0 where there are none. */
function share(values: Float64Array, of: number): number {
  return values.sort()[Math.floor(values.length * of)] ?? 0;
}
