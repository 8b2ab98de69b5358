import { Fourier } from './fourier.ts';

/** Samples of a window and between windows, at 16 kHz: 32 ms, and 8 ms, a fifth of a film frame. */
export const WINDOW_SAMPLES = 512;
export const HOP_SAMPLES = 128;
/** What is compared: below it rooms hum and small loudspeakers are dumb, above it codecs and rooms leave little. */
const LOW_BIN = 5;
const HIGH_BIN = 190;
export const BINS = HIGH_BIN - LOW_BIN;

/** Turn of a bin's phase, in radians, for a delay of one sample. */
export function turnOf(bin: number): number {
  return (-2 * Math.PI * (bin + LOW_BIN)) / WINDOW_SAMPLES;
}

/** Short-time spectra: for window `k` and bin `b` the parts stand at `k * BINS + b`. */
export interface Spectra {
  readonly windows: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

const fourier = new Fourier(WINDOW_SAMPLES);
const window = Float64Array.from(
  { length: WINDOW_SAMPLES },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW_SAMPLES),
);

/** Spectra of `windows` windows whose middles are at `middleOf(k)`; beyond the sound's ends there is silence. */
export function spectraOf(sound: Float32Array, windows: number, middleOf: (k: number) => number): Spectra {
  const re = new Float32Array(windows * BINS);
  const im = new Float32Array(windows * BINS);
  const values = new Float64Array(WINDOW_SAMPLES);
  const spectrum = fourier.complexArray();
  for (let k = 0; k < windows; k++) {
    const from = middleOf(k) - WINDOW_SAMPLES / 2;
    for (let i = 0; i < WINDOW_SAMPLES; i++) values[i] = (window[i] as number) * (sound[from + i] ?? 0);
    fourier.forwardReal(spectrum, values);
    for (let bin = 0; bin < BINS; bin++) {
      re[k * BINS + bin] = spectrum[2 * (bin + LOW_BIN)] as number;
      im[k * BINS + bin] = spectrum[2 * (bin + LOW_BIN) + 1] as number;
    }
  }
  return { windows, re, im };
}

/** A response over the compared bins as one over lags: `WINDOW_SAMPLES` values, negative lags at the end. */
export function lagsOf(re: Float64Array, im: Float64Array): Float64Array {
  const spectrum = fourier.complexArray();
  for (let bin = 0; bin < BINS; bin++) {
    spectrum[2 * (bin + LOW_BIN)] = re[bin] as number;
    spectrum[2 * (bin + LOW_BIN) + 1] = im[bin] as number;
  }
  const values = fourier.complexArray();
  fourier.inverseReal(values, spectrum);
  return Float64Array.from({ length: WINDOW_SAMPLES }, (_, i) => values[2 * i] as number);
}

/** The other way round. */
export function responseOf(lags: Float64Array): { re: Float64Array; im: Float64Array } {
  const spectrum = fourier.complexArray();
  fourier.forwardReal(spectrum, lags);
  const re = Float64Array.from({ length: BINS }, (_, bin) => spectrum[2 * (bin + LOW_BIN)] as number);
  const im = Float64Array.from({ length: BINS }, (_, bin) => spectrum[2 * (bin + LOW_BIN) + 1] as number);
  return { re, im };
}

/** Bins below and above, windows before and after, over which a power is taken. */
const REACH = 2;

/** The mean power around each bin, at least `floor` times the mean of all. */
export function smoothPower({ windows, re, im }: Spectra, floor: number): Float32Array {
  const across = new Float32Array(windows * BINS);
  const row = new Float64Array(BINS);
  let total = 0;
  for (let k = 0; k < windows; k++) {
    for (let bin = 0, i = k * BINS; bin < BINS; bin++, i++) {
      row[bin] = (re[i] as number) ** 2 + (im[i] as number) ** 2;
      total += row[bin] as number;
    }
    smoothed(row, BINS, (bin, value) => {
      across[k * BINS + bin] = value;
    });
  }
  const least = (floor * total) / Math.max(1, across.length) + 1e-20;
  const out = new Float32Array(windows * BINS);
  const column = new Float64Array(windows);
  for (let bin = 0; bin < BINS; bin++) {
    for (let k = 0; k < windows; k++) column[k] = across[k * BINS + bin] as number;
    smoothed(column, windows, (k, value) => {
      out[k * BINS + bin] = Math.max(least, value);
    });
  }
  return out;
}

/** Gives the mean of each value and its neighbours; at the ends there are fewer. */
function smoothed(values: Float64Array, count: number, give: (index: number, mean: number) => void): void {
  let sum = 0;
  let seen = 0;
  for (let i = -REACH; i < count; i++) {
    const entering = i + REACH;
    const leaving = i - REACH - 1;
    if (entering < count) {
      sum += values[entering] as number;
      seen++;
    }
    if (leaving >= 0) {
      sum -= values[leaving] as number;
      seen--;
    }
    if (i >= 0) give(i, Math.max(0, sum) / seen);
  }
}
