import { Fourier, powerOfTwo } from './fourier.ts';

/** A place where a piece of the shot's sound seems to be heard. */
export interface Hit {
  /** Sample of the recording at which the piece begins. */
  readonly at: number;
  /** Sample of the shot at which the piece begins. */
  readonly piece: number;
  /** Height of the correlation over its own root mean square nearby. */
  readonly height: number;
}

export interface Pieces {
  readonly length: number;
  readonly hop: number;
  readonly leastHeight: number;
}

/**
 * Slides pieces of the shot's sound along the recording and gives the places where the correlation stands out. Both must be
 * whitened and of the same rate. Two pieces are slid at once, as the real and the imaginary part of one transform (overlap-save).
 */
export function findHits(
  recording: Float32Array,
  shot: Float32Array,
  pieces: Pieces,
  onBlock?: (f: number) => void,
): Hit[] {
  const length = Math.min(pieces.length, shot.length);
  const size = powerOfTwo(4 * length);
  const valid = size - length + 1;
  const fourier = new Fourier(size);
  const starts: number[] = [];
  for (let at = 0; at + length <= shot.length; at += pieces.hop) starts.push(at);
  const lastStart = starts.at(-1) ?? 0;
  if (lastStart + length + pieces.hop / 4 < shot.length) starts.push(shot.length - length);
  const pairs = [];
  for (let k = 0; k < starts.length; k += 2) {
    pairs.push({
      starts: starts.slice(k, k + 2),
      spectrum: pairSpectrum(fourier, shot, starts.slice(k, k + 2), length),
    });
  }
  const block = new Float64Array(size);
  const spectrum = fourier.complexArray();
  const product = fourier.complexArray();
  const lags = fourier.complexArray();
  const hits: Hit[] = [];
  for (let from = -length + 1; from < recording.length; from += valid) {
    onBlock?.(Math.max(0, from) / recording.length);
    const [first, end] = [Math.max(0, -from), Math.min(size, recording.length - from)];
    if (first > 0 || end < size) block.fill(0);
    for (let i = first; i < end; i++) block[i] = recording[from + i] as number;
    fourier.forwardReal(spectrum, block);
    const levels = levelsUnder(block, length, valid);
    for (const pair of pairs) {
      multiplyByBoth(product, spectrum, pair.spectrum, size);
      fourier.inverse(lags, product);
      for (const [part, piece] of pair.starts.entries()) {
        collect(hits, lags, part, levels, from, piece, pieces.leastHeight);
      }
    }
  }
  return hits;
}

/** Spectrum of piece 1 + i * piece 2, time-reversed: conjugates of the parts, so that multiplying correlates. */
function pairSpectrum(
  fourier: Fourier,
  shot: Float32Array,
  starts: readonly number[],
  length: number,
): Float64Array {
  const size = fourier.size;
  const reversed = fourier.complexArray();
  starts.forEach((start, part) => {
    for (let i = 0; i < length; i++) reversed[2 * ((size - i) % size) + part] = shot[start + i] as number;
  });
  const spectrum = fourier.complexArray();
  fourier.forward(spectrum, reversed);
  return spectrum;
}

/** The product of a real signal's spectrum, of which one half is given, with a complex signal's: two mirrored bins at a time. */
function multiplyByBoth(product: Float64Array, half: Float64Array, other: Float64Array, size: number): void {
  for (let low = 0; low <= size; low += 2) {
    const re = half[low] as number;
    const im = half[low + 1] as number;
    const lowRe = other[low] as number;
    const lowIm = other[low + 1] as number;
    product[low] = re * lowRe - im * lowIm;
    product[low + 1] = re * lowIm + im * lowRe;
    if (low === 0) continue;
    const high = 2 * size - low;
    const highRe = other[high] as number;
    const highIm = other[high + 1] as number;
    product[high] = re * highRe + im * highIm;
    product[high + 1] = re * highIm - im * highRe;
  }
}

/**
 * Adds the lags at which one part of the correlation stands out. Each is first divided by the level of the recording under the
 * piece (a normalised correlation), then by the root mean square of all.
 */
function collect(
  hits: Hit[],
  lags: Float64Array,
  part: number,
  levels: Float64Array,
  from: number,
  piece: number,
  least: number,
): void {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < levels.length; i++) {
    const level = levels[i] as number;
    if (level === 0) continue;
    sum += ((lags[2 * i + part] as number) / level) ** 2;
    count++;
  }
  const rms = Math.sqrt(sum / Math.max(1, count));
  if (rms === 0) return;
  const bar = least * rms;
  for (let i = 0; i < levels.length; i++) {
    const level = levels[i] as number;
    const size = Math.abs(lags[2 * i + part] as number);
    if (size < bar * level || level === 0) continue;
    hits.push({ at: from + i, piece, height: size / level / rms });
  }
}

/** The recording's level under a piece at each lag; 0 where there is next to nothing to compare. */
function levelsUnder(block: Float64Array, length: number, valid: number): Float64Array {
  const levels = new Float64Array(valid);
  let energy = 0;
  let most = 0;
  for (let i = 0; i < length - 1; i++) energy += (block[i] as number) ** 2;
  for (let i = 0; i < valid; i++) {
    energy += (block[i + length - 1] as number) ** 2;
    levels[i] = Math.max(0, energy);
    most = Math.max(most, energy);
    energy -= (block[i] as number) ** 2;
  }
  return levels.map((value) => (value > LEAST_ENERGY * most ? Math.sqrt(value) : 0));
}

/** Share of the block's strongest stretch. */
const LEAST_ENERGY = 0.05;
