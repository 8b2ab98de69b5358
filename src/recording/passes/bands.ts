import { Fourier } from './fourier.ts';

/** Bands whose loudness is followed, a third of an octave apart or so. */
export const BANDS = 24;
const LOW_HZ = 150;
const HIGH_HZ = 6000;
const WINDOW_SAMPLES = 512;
const RATE_HZ = 16000;
/** Softer than this against the band's mean power, nothing is told apart. */
const FLOOR = 0.01;
/** Louder or softer than usual by so many standard deviations counts no further. */
const MOST = 2.5;

/** Loudness over time: for window `k` and band `b` at `k * BANDS + b`, of mean 0 nearby and variance 1. */
export interface Loudness {
  readonly windows: number;
  readonly values: Float32Array;
}

const fourier = new Fourier(WINDOW_SAMPLES);
const taper = Float64Array.from(
  { length: WINDOW_SAMPLES },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW_SAMPLES),
);

/** First bin of each band, spaced as pitch is heard (mel scale: S. Stevens, J. Volkmann and E. Newman, 1937; O'Shaughnessy's formula). */
const EDGES = Array.from({ length: BANDS + 1 }, (_, band) => {
  const mel = (hz: number) => 2595 * Math.log10(1 + hz / 700);
  const at = mel(LOW_HZ) + (band / BANDS) * (mel(HIGH_HZ) - mel(LOW_HZ));
  return Math.round(((700 * (10 ** (at / 2595) - 1)) / RATE_HZ) * WINDOW_SAMPLES);
});

/**
 * Follows the loudness of each band of a sound, against its own mean nearby, so that neither level nor colour matter.
 * @param middleOf the sample at a window's middle
 * @param nearWindows how many windows before and after are nearby
 */
export function loudnessOf(
  sound: Float32Array,
  windows: number,
  middleOf: (k: number) => number,
  nearWindows: number,
): Loudness {
  const logs = new Float32Array(windows * BANDS);
  const means = new Float64Array(BANDS);
  const values = new Float64Array(WINDOW_SAMPLES);
  const spectrum = fourier.complexArray();
  for (let k = 0; k < windows; k++) {
    const from = middleOf(k) - WINDOW_SAMPLES / 2;
    const [first, end] = [Math.max(0, -from), Math.min(WINDOW_SAMPLES, sound.length - from)];
    if (first > 0 || end < WINDOW_SAMPLES) values.fill(0);
    for (let i = first; i < end; i++) values[i] = (taper[i] as number) * (sound[from + i] as number);
    fourier.forwardReal(spectrum, values);
    for (let band = 0; band < BANDS; band++) {
      const low = EDGES[band] as number;
      const high = Math.max(low + 1, EDGES[band + 1] as number);
      let power = 0;
      for (let bin = low; bin < high; bin++) {
        power += (spectrum[2 * bin] as number) ** 2 + (spectrum[2 * bin + 1] as number) ** 2;
      }
      logs[k * BANDS + band] = power;
      means[band] = (means[band] as number) + power / windows;
    }
  }
  for (let i = 0; i < logs.length; i++) {
    logs[i] = Math.log((logs[i] as number) + FLOOR * (means[i % BANDS] as number) + 1e-20);
  }
  return { windows, values: standardised(logs, windows, nearWindows) };
}

function standardised(logs: Float32Array, windows: number, near: number): Float32Array {
  const out = new Float32Array(logs.length);
  for (let band = 0; band < BANDS; band++) {
    let sum = 0;
    let count = 0;
    let squares = 0;
    for (let k = -near; k < windows; k++) {
      if (k + near < windows) {
        sum += logs[(k + near) * BANDS + band] as number;
        count++;
      }
      if (k - near - 1 >= 0) {
        sum -= logs[(k - near - 1) * BANDS + band] as number;
        count--;
      }
      if (k < 0) continue;
      const value = (logs[k * BANDS + band] as number) - sum / count;
      out[k * BANDS + band] = value;
      squares += value ** 2;
    }
    const deviation = Math.sqrt(squares / windows) + 1e-9;
    for (let k = 0; k < windows; k++) {
      const value = (out[k * BANDS + band] as number) / deviation;
      out[k * BANDS + band] = Math.max(-MOST, Math.min(MOST, value));
    }
  }
  return out;
}
