/** What stands out so far is no part of what chance does nearby. */
const CHANCE = 4;
/** What chance does is counted at one offset in so many. */
const COUNTED = 4;

/** Takes an offset at which the last piece, or the last few in a row, stand out. */
export type Give = (offset: number, inRow: number, height: number) => void;

/** The normalised correlations of the last pieces over one block of offsets, and the sums of two and of four of them in a row. */
export class Rows {
  readonly #leastHeight: number;
  /** Of the last piece; of the last two, and of the two before them. */
  readonly #one: Float32Array;
  readonly #twos: [Float32Array, Float32Array];
  #count = 0;

  constructor(offsets: number, leastHeight: number) {
    this.#leastHeight = leastHeight;
    this.#one = new Float32Array(offsets);
    this.#twos = [new Float32Array(offsets), new Float32Array(offsets)];
  }

  clear(): void {
    this.#count = 0;
    for (const row of [this.#one, ...this.#twos]) row.fill(0);
  }

  /** Takes the correlations of the next piece and gives what stands out with it; undefined where there is no recording. */
  push(lags: Float32Array | undefined, weights: Float32Array | undefined, give: Give): void {
    const scale = lags && weights ? scaleOf(lags, weights) : 0;
    const twos = this.#twos[this.#count % 2] as Float32Array;
    const count = ++this.#count;
    if (lags && weights && scale > 0) {
      addWeighted(this.#one, twos, lags, weights, scale, this.#leastHeight, (i, one, two, four) => {
        if (Math.abs(one) > this.#leastHeight) give(i, 1, Math.abs(one));
        if (count >= 2 && Math.abs(two) > this.#leastHeight) give(i, 2, Math.abs(two));
        if (count >= 4 && Math.abs(four) > this.#leastHeight) give(i, 4, Math.abs(four));
      });
    } else {
      twos.set(this.#one);
      this.#one.fill(0);
    }
  }
}

/** What brings the row to a variance of 1. */
function scaleOf(lags: Float32Array, weights: Float32Array): number {
  let [sum, count, most] = [0, 0, 0];
  for (let i = 0; i < weights.length; i += COUNTED) {
    const weight = weights[i] as number;
    const square = ((lags[i] as number) * weight) ** 2;
    sum += square;
    if (square > most) most = square;
    if (weight > 0) count++;
  }
  if (most * count <= CHANCE ** 2 * sum) return sum > 0 ? Math.sqrt(count / sum) : 0;
  const peak = (CHANCE ** 2 * sum) / count;
  [sum, count] = [0, 0];
  for (let i = 0; i < weights.length; i += COUNTED) {
    const weight = weights[i] as number;
    const square = ((lags[i] as number) * weight) ** 2;
    if (weight === 0 || square > peak) continue;
    sum += square;
    count++;
  }
  return sum > 0 ? Math.sqrt(count / sum) : 0;
}

/**
 * The next piece takes the place of the last, the last two that of the two before them, in one go over the memory. Heights of one, two and
 * four pieces are given where one of them may be over the bar: where their squares together are.
 */
function addWeighted(
  ones: Float32Array,
  twos: Float32Array,
  lags: Float32Array,
  weights: Float32Array,
  scale: number,
  leastHeight: number,
  give: (i: number, one: number, two: number, four: number) => void,
): void {
  const bar = leastHeight ** 2;
  for (let i = 0; i < ones.length; i++) {
    const one = (lags[i] as number) * (weights[i] as number) * scale;
    const two = one + (ones[i] as number);
    const four = two + (twos[i] as number);
    ones[i] = one;
    twos[i] = two;
    if (one * one + 0.5 * two * two + 0.25 * four * four > bar) {
      give(i, one, Math.SQRT1_2 * two, 0.5 * four);
    }
  }
}
