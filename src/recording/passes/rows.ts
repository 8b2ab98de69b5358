/** What stands out so far is no part of what chance does nearby. */
const CHANCE = 4;

/** The normalised correlations of the last pieces over one block of offsets. */
export class Rows {
  readonly #leastHeight: number;
  readonly #inRow: readonly number[];
  readonly #rows: Float32Array[];
  readonly #sum: Float32Array;
  /** What brings each row to a variance of 1. */
  readonly #scales: Float64Array;
  #count = 0;

  /** @param inRow how many pieces in a row, besides one alone, are added up: from few to many */
  constructor(offsets: number, leastHeight: number, inRow: readonly number[]) {
    this.#leastHeight = leastHeight;
    this.#inRow = inRow;
    this.#rows = Array.from({ length: inRow.at(-1) ?? 1 }, () => new Float32Array(offsets));
    this.#sum = new Float32Array(offsets);
    this.#scales = new Float64Array(this.#rows.length);
  }

  clear(): void {
    this.#count = 0;
    for (const row of this.#rows) row.fill(0);
  }

  /** Takes the correlations of the next piece; undefined where there is no recording. */
  push(lags: Float32Array | undefined, weights: Float32Array | undefined): void {
    const at = this.#count++ % this.#rows.length;
    const row = this.#rows[at] as Float32Array;
    if (!lags || !weights) {
      row.fill(0);
      return;
    }
    let sum = 0;
    let count = 0;
    let most = 0;
    for (let i = 0; i < row.length; i++) {
      const weight = weights[i] as number;
      const value = (lags[i] as number) * weight;
      const square = value * value;
      row[i] = value;
      sum += square;
      if (square > most) most = square;
      if (weight > 0) count++;
    }
    if (most * count > CHANCE ** 2 * sum)
      [sum, count] = withoutPeaks(row, (CHANCE ** 2 * sum) / count, weights);
    this.#scales[at] = sum > 0 ? Math.sqrt(count / sum) : 0;
  }

  /** Gives each offset at which the last piece, or the last few in a row, stand out. */
  standingOut(give: (offset: number, inRow: number, height: number) => void): void {
    const kept = this.#rows.length;
    const sum = this.#sum;
    sum.fill(0);
    let added = 0;
    for (const inRow of [1, ...this.#inRow]) {
      if (this.#count < inRow) break;
      for (; added < inRow; added++) {
        const at = (this.#count + kept - 1 - added) % kept;
        const bar = added === inRow - 1 ? this.#leastHeight * Math.sqrt(inRow) : Number.POSITIVE_INFINITY;
        add(sum, this.#rows[at] as Float32Array, this.#scales[at] as number, bar, (i, value) =>
          give(i, inRow, value / Math.sqrt(inRow)),
        );
      }
    }
  }
}

/** Adds a row and, in the same go over the memory, gives what stands over the bar. */
function add(
  sum: Float32Array,
  row: Float32Array,
  scale: number,
  bar: number,
  give: (i: number, value: number) => void,
): void {
  for (let i = 0; i < sum.length; i++) {
    const value = (sum[i] as number) + scale * (row[i] as number);
    sum[i] = value;
    if (value > bar || value < -bar) give(i, Math.abs(value));
  }
}

function withoutPeaks(row: Float32Array, most: number, weights: Float32Array): [number, number] {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < row.length; i++) {
    const square = (row[i] as number) ** 2;
    if (weights[i] === 0 || square > most) continue;
    sum += square;
    count++;
  }
  return [sum, count];
}
