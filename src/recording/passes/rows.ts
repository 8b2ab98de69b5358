/** What stands out so far is no part of what chance does nearby. */
const CHANCE = 4;
/** What chance does is counted at one offset in so many. */
const COUNTED = 4;

/** Takes an offset at which the last piece, or the last few in a row, stand out. */
export type Give = (offset: number, inRow: number, height: number) => void;

/** The normalised correlations of the last pieces over one block of offsets, and the sums of two, four, eight of them in a row. */
export class Rows {
  readonly #leastHeight: number;
  /** For each doubling, the sums of 2^doubling pieces in a row, as many of the last of them as the next doubling needs. */
  readonly #sums: Float32Array[][];
  #spare: Float32Array;
  #count = 0;

  /** @param doublings how often the number of pieces that are added up is doubled: 2 for one, two and four in a row */
  constructor(offsets: number, leastHeight: number, doublings: number) {
    this.#leastHeight = leastHeight;
    this.#sums = Array.from({ length: doublings }, (_, doubling) =>
      Array.from({ length: 2 ** doubling }, () => new Float32Array(offsets)),
    );
    this.#spare = new Float32Array(offsets);
  }

  clear(): void {
    this.#count = 0;
    for (const kept of this.#sums) for (const row of kept) row.fill(0);
  }

  /** Takes the correlations of the next piece and gives what stands out with it; undefined where there is no recording. */
  push(lags: Float32Array | undefined, weights: Float32Array | undefined, give: Give): void {
    let last = this.#spare;
    const scale = lags && weights ? scaleOf(lags, weights) : 0;
    if (lags && weights && scale > 0) weighted(last, lags, weights, scale);
    else last.fill(0);
    report(last, 1, this.#leastHeight, give);
    for (const [doubling, kept] of this.#sums.entries()) {
      const at = this.#count % kept.length;
      const before = kept[at] as Float32Array;
      kept[at] = last;
      add(before, last);
      last = before;
      const inRow = 2 ** (doubling + 1);
      if (this.#count + 1 >= inRow) report(last, inRow, this.#leastHeight, give);
    }
    this.#spare = last;
    this.#count++;
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

function weighted(row: Float32Array, lags: Float32Array, weights: Float32Array, scale: number): void {
  for (let i = 0; i < row.length; i++) row[i] = (lags[i] as number) * (weights[i] as number) * scale;
}

function add(sum: Float32Array, row: Float32Array): void {
  for (let i = 0; i < sum.length; i++) sum[i] = (sum[i] as number) + (row[i] as number);
}

function report(row: Float32Array, inRow: number, leastHeight: number, give: Give): void {
  const bar = leastHeight * Math.sqrt(inRow);
  for (let i = 0; i < row.length; i++) {
    const value = row[i] as number;
    if (value > bar || value < -bar) give(i, inRow, Math.abs(value) / Math.sqrt(inRow));
  }
}
