import { Fourier } from './fourier.ts';

/** What of the spectrum is kept, and how far its size is taken out. */
export interface Whitening {
  readonly rateHz: number;
  readonly lowHz: number;
  readonly highHz: number;
  /** 1 makes every part of the spectrum equally strong at every moment, 0 leaves the sound as it is. */
  readonly power: number;
}

const WINDOW_SECONDS = 0.128;
/** The size of a bin is taken from so many neighbours on each side, so that harmonics stay somewhat above the gaps. */
const NEIGHBOURS = 2;
/** Parts of the sound this much weaker than its mean (amplitude) are not brought up: they are a codec's or converter's dust. */
const FLOOR = 1e-3;

/**
 * Takes out the level and the colour of a sound, moment by moment: windows of 128 ms, half overlapping, whose bins are divided by their
 * own size to a power. What is left is timing, which a loudspeaker, a room and a microphone change least (the phase transform of
 * C. Knapp and G. Carter, The generalized correlation method for estimation of time delay, 1976, window by window).
 */
export function whiten(sound: Float32Array, { rateHz, lowHz, highHz, power }: Whitening): Float32Array {
  const size = 2 ** Math.round(Math.log2(WINDOW_SECONDS * rateHz));
  const hop = size / 2;
  const fourier = new Fourier(size);
  const window = Float64Array.from({ length: size }, (_, i) => Math.sin((Math.PI * (i + 0.5)) / size));
  const values = new Float64Array(size);
  const spectrum = fourier.complexArray();
  const back = fourier.complexArray();
  const power2 = new Float64Array(size / 2 + 1 + NEIGHBOURS);
  const lowBin = Math.ceil((lowHz * size) / rateHz);
  const highBin = Math.floor((highHz * size) / rateHz);
  const floor = FLOOR ** 2 * meanSquare(sound) * size + 1e-20;
  const out = new Float32Array(sound.length);
  for (let from = -hop; from < sound.length; from += hop) {
    const first = Math.max(0, -from);
    const end = Math.min(size, sound.length - from);
    if (first > 0 || end < size) values.fill(0);
    for (let i = first; i < end; i++) values[i] = (window[i] as number) * (sound[from + i] as number);
    fourier.forwardReal(spectrum, values);
    for (let bin = 0; bin <= size / 2; bin++) {
      power2[bin] = (spectrum[2 * bin] as number) ** 2 + (spectrum[2 * bin + 1] as number) ** 2;
    }
    for (let bin = 0; bin <= size / 2; bin++) {
      let weight = 0;
      if (bin >= lowBin && bin <= highBin) {
        let around = 0;
        for (let near = bin - NEIGHBOURS; near <= bin + NEIGHBOURS; near++) around += power2[near] as number;
        weight = (around / (2 * NEIGHBOURS + 1) + floor) ** (-power / 2);
      }
      spectrum[2 * bin] = weight * (spectrum[2 * bin] as number);
      spectrum[2 * bin + 1] = weight * (spectrum[2 * bin + 1] as number);
    }
    fourier.inverseReal(back, spectrum);
    for (let i = first; i < end; i++) {
      out[from + i] = (out[from + i] as number) + (window[i] as number) * (back[2 * i] as number);
    }
  }
  return out;
}

function meanSquare(sound: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < sound.length; i++) sum += (sound[i] as number) ** 2;
  return sum / Math.max(1, sound.length);
}
