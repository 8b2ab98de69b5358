import type { Channels } from './propose.ts';

/** So much of the mean variance is added to each: nothing rests on differences that are hardly there. */
const RIDGE = 0.02;
/** Covariances are counted over so many moments at most. */
const MOST_COUNTED = 20_000;
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
  const counted = channels.map((channel) => channel.filter((_, i) => i % each === 0));
  const rows = counted.map((one, i) =>
    Float64Array.from({ length: i + 1 }, (_, j) => {
      const other = counted[j] as Float32Array;
      let sum = 0;
      for (let k = 0; k < one.length; k++) sum += (one[k] as number) * (other[k] as number);
      return sum / Math.max(1, one.length);
    }),
  );
  const mean = rows.reduce((sum, row, i) => sum + (row[i] as number), 0) / Math.max(1, rows.length);
  for (const [i, row] of rows.entries()) row[i] = (row[i] as number) + RIDGE * mean + 1e-9;
  return rows;
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

/** L^-1 times the channels. */
function solved(root: readonly Float64Array[], channels: Channels): Float32Array[] {
  const out: Float32Array[] = [];
  for (const [i, channel] of channels.entries()) {
    const row = root[i] as Float64Array;
    const own = Float32Array.from(channel);
    for (let j = 0; j < i; j++) {
      const share = row[j] as number;
      const other = out[j] as Float32Array;
      for (let k = 0; k < own.length; k++) own[k] = (own[k] as number) - share * (other[k] as number);
    }
    const scale = 1 / (row[i] as number);
    for (let k = 0; k < own.length; k++) own[k] = scale * (own[k] as number);
    out.push(own);
  }
  return out;
}
