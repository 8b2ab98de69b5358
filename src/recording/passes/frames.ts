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
interface Spectra {
  readonly windows: number;
  readonly re: Float32Array;
  readonly im: Float32Array;
}

const fourier = new Fourier(WINDOW_SAMPLES);
const window = Float64Array.from(
  { length: WINDOW_SAMPLES },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / WINDOW_SAMPLES),
);

/** Spectra and the mean power round each bin of each window. */
export interface Powers extends Spectra {
  readonly power: Float32Array;
}

/** Powers below this share of the mean are taken to be as strong as it: converters' and codecs' dust. */
const FLOOR = 1e-3;

/** A run of windows, without a copy. */
export function windowsOf({ re, im, power }: Powers, from: number, windows: number): Powers {
  const [start, end] = [from * BINS, (from + windows) * BINS];
  return {
    windows,
    re: re.subarray(start, end),
    im: im.subarray(start, end),
    power: power.subarray(start, end),
  };
}

/** Spectra of `windows` windows whose middles are at `middleOf(k)`; beyond the sound's ends there is silence. */
export function spectraOf(sound: Float32Array, windows: number, middleOf: (k: number) => number): Powers {
  const re = new Float32Array(windows * BINS);
  const im = new Float32Array(windows * BINS);
  const values = new Float64Array(WINDOW_SAMPLES);
  const spectrum = fourier.complexArray();
  for (let k = 0; k < windows; k++) {
    const from = middleOf(k) - WINDOW_SAMPLES / 2;
    const [first, end] = [Math.max(0, -from), Math.min(WINDOW_SAMPLES, sound.length - from)];
    if (first > 0 || end < WINDOW_SAMPLES) values.fill(0);
    for (let i = first; i < end; i++) values[i] = (window[i] as number) * (sound[from + i] as number);
    fourier.forwardReal(spectrum, values);
    for (let bin = 0; bin < BINS; bin++) {
      re[k * BINS + bin] = spectrum[2 * (bin + LOW_BIN)] as number;
      im[k * BINS + bin] = spectrum[2 * (bin + LOW_BIN) + 1] as number;
    }
  }
  const spectra = { windows, re, im };
  return { ...spectra, power: smoothPower(spectra) };
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

/** The mean power around each bin, at least FLOOR times the mean of all. */
function smoothPower({ windows, re, im }: Spectra): Float32Array {
  const across = new Float32Array(windows * BINS);
  let total = 0;
  for (let k = 0; k < windows; k++) {
    const row = k * BINS;
    let sum = 0;
    for (let bin = -REACH; bin < BINS; bin++) {
      const entering = bin + REACH;
      if (entering < BINS) {
        const power = (re[row + entering] as number) ** 2 + (im[row + entering] as number) ** 2;
        sum += power;
        total += power;
      }
      const leaving = bin - REACH - 1;
      if (leaving >= 0) sum -= (re[row + leaving] as number) ** 2 + (im[row + leaving] as number) ** 2;
      if (bin >= 0) across[row + bin] = sum / (Math.min(entering, BINS - 1) - Math.max(0, bin - REACH) + 1);
    }
  }
  const least = (FLOOR * total) / Math.max(1, across.length) + 1e-20;
  const out = new Float32Array(windows * BINS);
  const sums = new Float64Array(BINS);
  for (let k = -REACH; k < windows; k++) {
    const entering = (k + REACH) * BINS;
    const leaving = (k - REACH - 1) * BINS;
    const count = Math.min(k + REACH, windows - 1) - Math.max(0, k - REACH) + 1;
    for (let bin = 0; bin < BINS; bin++) {
      let sum = sums[bin] as number;
      if (k + REACH < windows) sum += across[entering + bin] as number;
      if (leaving >= 0) sum -= across[leaving + bin] as number;
      sums[bin] = sum;
      if (k >= 0) out[k * BINS + bin] = Math.max(least, sum / count);
    }
  }
  return out;
}
