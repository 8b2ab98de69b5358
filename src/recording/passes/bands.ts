import { Fourier } from './fourier.ts';
import type { Channels } from './propose.ts';

const WINDOW_SAMPLES = 512;
/** Louder or softer than usual by so many standard deviations counts no further. */
const MOST = 2.5;
/** Bins of 31 Hz: below, one to a band, so that the partials of a voice or an instrument are told apart; above, three. */
const LOW_BIN = 5;
const SINGLE_BINS_TO = 69;
const HIGH_BIN = 189;
const WIDE = 3;

/** First bin of each band, and the end. */
const EDGES = [
  ...Array.from({ length: SINGLE_BINS_TO - LOW_BIN }, (_, i) => LOW_BIN + i),
  ...Array.from({ length: (HIGH_BIN - SINGLE_BINS_TO) / WIDE + 1 }, (_, i) => SINGLE_BINS_TO + WIDE * i),
];
export const BANDS = EDGES.length - 1;

const fourier = new Fourier(WINDOW_SAMPLES);
const taper = Float64Array.from(
  { length: WINDOW_SAMPLES },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW_SAMPLES),
);

export interface Following {
  /** Samples from the middle of one window to the next. */
  readonly hop: number;
  /** How many windows before and after are nearby. */
  readonly nearWindows: number;
  /** Softer than this share of the band's mean power, nothing is told apart. */
  readonly floor: number;
  /** Whether what is softer than that counts for nothing, rather than for silence: under talk, silence is not heard. */
  readonly onlyLoud: boolean;
}

/**
 * Follows the loudness of each band of a sound, against its own mean nearby, so that neither level nor colour matter: of mean 0
 * nearby and variance 1.
 */
export function loudnessOf(sound: Float32Array, { hop, nearWindows, floor, onlyLoud }: Following): Channels {
  const windows = Math.floor(sound.length / hop);
  const bands = Array.from({ length: BANDS }, () => new Float32Array(windows));
  const values = new Float64Array(WINDOW_SAMPLES);
  const spectrum = fourier.complexArray();
  for (let k = 0; k < windows; k++) {
    const from = k * hop - WINDOW_SAMPLES / 2;
    const [first, end] = [Math.max(0, -from), Math.min(WINDOW_SAMPLES, sound.length - from)];
    if (first > 0 || end < WINDOW_SAMPLES) values.fill(0);
    for (let i = first; i < end; i++) values[i] = (taper[i] as number) * (sound[from + i] as number);
    fourier.forwardReal(spectrum, values);
    for (const [band, powers] of bands.entries()) {
      let power = 0;
      for (let bin = EDGES[band] as number; bin < (EDGES[band + 1] as number); bin++) {
        power += (spectrum[2 * bin] as number) ** 2 + (spectrum[2 * bin + 1] as number) ** 2;
      }
      powers[k] = power;
    }
  }
  for (const powers of bands) standardise(powers, nearWindows, floor, onlyLoud);
  return bands;
}

/** Powers become logarithms, of mean 0 nearby and variance 1, in their place. */
function standardise(band: Float32Array, near: number, floor: number, onlyLoud: boolean): void {
  const windows = band.length;
  let mean = 0;
  for (const power of band) mean += power / windows;
  const sums = new Float64Array(windows + 1);
  const loud = new Float32Array(windows).fill(1);
  for (let k = 0; k < windows; k++) {
    if (onlyLoud) loud[k] = (band[k] as number) / ((band[k] as number) + floor * mean + 1e-20);
    band[k] = Math.log((band[k] as number) + floor * mean + 1e-20);
    sums[k + 1] = (sums[k] as number) + (band[k] as number);
  }
  let squares = 0;
  for (let k = 0; k < windows; k++) {
    const [from, to] = [Math.max(0, k - near), Math.min(windows, k + near + 1)];
    band[k] = (band[k] as number) - ((sums[to] as number) - (sums[from] as number)) / (to - from);
    squares += (band[k] as number) ** 2;
  }
  const scale = 1 / (Math.sqrt(squares / windows) + 1e-9);
  for (let k = 0; k < windows; k++) {
    band[k] = (loud[k] as number) * Math.max(-MOST, Math.min(MOST, scale * (band[k] as number)));
  }
}
