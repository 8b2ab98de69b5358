import { SAMPLE_RATE } from '../recording/recording.ts';

/**
 * What of a sound lies above a frequency: twice a second-order high-pass without a peak (R. Bristow-Johnson, Cookbook formulae
 * for audio EQ biquad filter coefficients), so that an octave below it is 24 dB weaker.
 *
 * @param samples At 16 kHz.
 */
export function highPass(samples: Float32Array, hertz: number): Float32Array {
  return filtered(filtered(samples, hertz), hertz);
}

function filtered(samples: Float32Array, hertz: number): Float32Array {
  const turn = (2 * Math.PI * hertz) / SAMPLE_RATE;
  const alpha = Math.sin(turn) / Math.SQRT2;
  const whole = 1 + alpha;
  const b0 = (1 + Math.cos(turn)) / 2 / whole;
  const a1 = (-2 * Math.cos(turn)) / whole;
  const a2 = (1 - alpha) / whole;
  const out = new Float32Array(samples.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i] as number;
    const y = b0 * (x - 2 * x1 + x2) - a1 * y1 - a2 * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    out[i] = y;
  }
  return out;
}
