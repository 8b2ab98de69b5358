import { SAMPLE_RATE } from '../recording.ts';
import { BlockTransform } from './block-transform.ts';

/** What of the spectrum is kept, and how far its size is taken out. */
export interface Whitening {
  /** Of the result: SAMPLE_RATE over a power of two. */
  readonly rateHz: number;
  readonly lowHz: number;
  readonly highHz: number;
  /** 1 makes every part of the spectrum equally strong at every moment, 0 leaves the sound as it is. */
  readonly power: number;
}

/** 128 ms. */
const WINDOW_SAMPLES = 2048;
const HOP_SAMPLES = WINDOW_SAMPLES / 2;
/** The size of a bin is taken from so many neighbours on each side, so that harmonics stay somewhat above the gaps. */
const NEIGHBOURS = 2;
/** Parts of the sound this much weaker than its mean (amplitude) are not brought up: they are a codec's or converter's dust. */
const FLOOR = 1e-3;

/**
 * Takes out the level and the colour of a sound, moment by moment: windows of 128 ms, half overlapping, whose bins are divided by their
 * own size to a power. What is left is timing, which a loudspeaker, a room and a microphone change least (the phase transform of
 * C. Knapp and G. Carter, The generalized correlation method for estimation of time delay, 1976, window by window). What lies above the
 * kept part is gone, so that fewer samples a second hold the rest.
 * @param sound 16 kHz
 */
export async function whiten(sound: Float32Array, whitening: Whitening): Promise<Float32Array> {
  const { rateHz, power } = whitening;
  const each = SAMPLE_RATE / rateHz;
  const size = WINDOW_SAMPLES / each;
  const [from, to] = [await BlockTransform.of(WINDOW_SAMPLES), await BlockTransform.of(size)];
  const [spectrum, back] = [from.block, to.block];
  const [taper, taperBack] = [taperOf(WINDOW_SAMPLES), taperOf(size)];
  const lowBin = Math.max(NEIGHBOURS + 1, Math.ceil((whitening.lowHz * WINDOW_SAMPLES) / SAMPLE_RATE));
  const highBin = Math.floor((whitening.highHz * WINDOW_SAMPLES) / SAMPLE_RATE);
  const floor = FLOOR ** 2 * meanSquare(sound) * WINDOW_SAMPLES + 1e-20;
  const powers = new Float64Array(highBin + NEIGHBOURS + 1);
  const out = new Float32Array(Math.round(sound.length / each));
  for (let start = -HOP_SAMPLES; start < sound.length; start += HOP_SAMPLES) {
    const [first, end] = [Math.max(0, -start), Math.min(WINDOW_SAMPLES, sound.length - start)];
    if (first > 0 || end < WINDOW_SAMPLES) spectrum.fill(0);
    for (let i = first; i < end; i++) spectrum[i] = (taper[i] as number) * (sound[start + i] as number);
    from.forward();
    for (let bin = lowBin - NEIGHBOURS; bin <= highBin + NEIGHBOURS; bin++) {
      powers[bin] = (spectrum[2 * bin] as number) ** 2 + (spectrum[2 * bin + 1] as number) ** 2;
    }
    back.fill(0);
    for (let bin = lowBin; bin <= highBin; bin++) {
      let around = 0;
      for (let near = bin - NEIGHBOURS; near <= bin + NEIGHBOURS; near++) around += powers[near] as number;
      const weight = (around / (2 * NEIGHBOURS + 1) + floor) ** (-power / 2);
      back[2 * bin] = weight * (spectrum[2 * bin] as number);
      back[2 * bin + 1] = weight * (spectrum[2 * bin + 1] as number);
    }
    to.backward();
    const place = start / each;
    const last = Math.min(size, out.length - place);
    for (let i = Math.max(0, -place); i < last; i++) {
      out[place + i] = (out[place + i] as number) + (taperBack[i] as number) * (back[i] as number);
    }
  }
  from.free();
  to.free();
  return out;
}

function taperOf(size: number): Float64Array {
  return Float64Array.from({ length: size }, (_, i) => Math.sin((Math.PI * (i + 0.5)) / size));
}

function meanSquare(sound: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < sound.length; i++) sum += (sound[i] as number) ** 2;
  return sum / Math.max(1, sound.length);
}
