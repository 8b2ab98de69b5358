import type { Channels } from './propose.ts';

/** So much of the mean variance is added to each: nothing rests on differences that are hardly there. */
const RIDGE = 0.02;
/** Covariances are counted over so many moments at most. */
const MOST_COUNTED = 6000;
/** Another voice, another room, a cut: what is usual changes. It is counted over so many moments before and after, half a second each. */
const NEAR = 32;
/** A moment that is beyond what is usual (root mean square) counts up to so many times that, and a single channel of it up to so many. */
const MOST_MOMENT = 1.5;
const MOST_VALUE = 3;
const LEAST_USUAL = 0.01;
/** For what is usual, a moment counts up to so many times the power of the whole recording. */
const MOST_USUAL = 4;

/**
 * Makes the channels of a recording uncorrelated and of variance 1, and changes those of the shot in the same way. In a recording of
 * talk all bands rise and fall together: what is left of the shot after this are the differences between bands, of which talk has
 * least. Products of the two, summed, are then the linear detector that is best in Gaussian noise (the matched filter in coloured noise:
 * S. M. Kay, Fundamentals of Statistical Signal Processing, vol. 2, 1998, section 4.4).
 */
export function uncorrelate(recording: Channels, shot: Channels): { recording: Channels; shot: Channels } {
  const root = cholesky(covarianceOf(recording));
  return { recording: evened(solved(root, recording)), shot: solved(root, shot) };
}

/** The same, with what is out of the usual turned down: a few loud moments should not look like a whole play of the shot. */
function evened(channels: Float32Array[]): Float32Array[] {
  const length = channels[0]?.length ?? 0;
  const powers = new Float64Array(length);
  for (const channel of channels) {
    for (let k = 0; k < length; k++)
      powers[k] = (powers[k] as number) + (channel[k] as number) ** 2 / channels.length;
  }
  const sums = new Float64Array(length + 1);
  for (let k = 0; k < length; k++)
    sums[k + 1] = (sums[k] as number) + Math.min(MOST_USUAL, powers[k] as number);
  const gains = powers.map((power, k) => {
    const [from, to] = [Math.max(0, k - NEAR), Math.min(length, k + NEAR + 1)];
    const usual = ((sums[to] as number) - (sums[from] as number)) / (to - from);
    return Math.min(1 / Math.sqrt(usual + LEAST_USUAL), MOST_MOMENT / Math.sqrt(power + 1e-9));
  });
  for (const channel of channels) {
    for (let k = 0; k < length; k++) {
      const value = (gains[k] as number) * (channel[k] as number);
      channel[k] = Math.max(-MOST_VALUE, Math.min(MOST_VALUE, value));
    }
  }
  return channels;
}

function covarianceOf(channels: Channels): Float64Array[] {
  const length = channels[0]?.length ?? 0;
  const each = Math.max(1, Math.floor(length / MOST_COUNTED));
  const counted = channels.map((channel) => Float64Array.from(channel.filter((_, i) => i % each === 0)));
  const rows = counted.map((one, i) => {
    const row = new Float64Array(i + 1);
    for (let j = 0; j <= i; j++) row[j] = meanProduct(one, counted[j] as Float64Array);
    return row;
  });
  const mean = rows.reduce((sum, row, i) => sum + (row[i] as number), 0) / Math.max(1, rows.length);
  for (const [i, row] of rows.entries()) row[i] = (row[i] as number) + RIDGE * mean + 1e-9;
  return rows;
}

function meanProduct(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += (a[k] as number) * (b[k] as number);
  return sum / Math.max(1, a.length);
}

/** The lower triangle L of a symmetric matrix L L^T of which the lower triangle is given. */
function cholesky(matrix: readonly Float64Array[]): Float64Array[] {
  const root: Float64Array[] = [];
  for (const [i, given] of matrix.entries()) {
    const row = Float64Array.from(given);
    for (let j = 0; j <= i; j++) {
      const other = j === i ? row : (root[j] as Float64Array);
      let sum = row[j] as number;
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      row[j] = j === i ? Math.sqrt(Math.max(1e-12, sum)) : sum / (other[j] as number);
    }
    root.push(row);
  }
  return root;
}

/** So many moments of all channels fit into a processor's nearest memory. */
const TOGETHER = 128;

/** L^-1 times the channels. */
function solved(root: readonly Float64Array[], channels: Channels): Float32Array[] {
  const out = channels.map((channel) => Float32Array.from(channel));
  const part = channels.map(() => new Float64Array(TOGETHER));
  for (let at = 0; at < (channels[0]?.length ?? 0); at += TOGETHER) {
    for (const [i, whole] of out.entries()) {
      const piece = whole.subarray(at, at + TOGETHER);
      const own = part[i] as Float64Array;
      own.fill(0);
      own.set(piece);
      const row = root[i] as Float64Array;
      let j = 0;
      for (; j + 4 <= i; j += 4) takeFour(own, row, part, j);
      for (; j < i; j++) take(own, row[j] as number, part[j] as Float64Array);
      const scale = 1 / (row[i] as number);
      for (let k = 0; k < own.length; k++) own[k] = scale * (own[k] as number);
      piece.set(own.subarray(0, piece.length));
    }
  }
  return out;
}

function take(own: Float64Array, share: number, other: Float64Array): void {
  for (let k = 0; k < own.length; k++) own[k] = (own[k] as number) - share * (other[k] as number);
}

/** The same for four channels in one go, which takes half the time. */
function takeFour(own: Float64Array, shares: Float64Array, parts: readonly Float64Array[], j: number): void {
  const [a, b, c, d] = parts.slice(j, j + 4) as [Float64Array, Float64Array, Float64Array, Float64Array];
  const [s, t, u, v] = shares.subarray(j, j + 4) as unknown as [number, number, number, number];
  for (let k = 0; k < own.length; k++) {
    own[k] =
      (own[k] as number) -
      s * (a[k] as number) -
      t * (b[k] as number) -
      u * (c[k] as number) -
      v * (d[k] as number);
  }
}
