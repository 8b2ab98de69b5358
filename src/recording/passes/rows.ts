/** What stands out so far is no part of what chance does nearby. */
const CHANCE = 4;

/** The normalised correlations of the last pieces over one block of offsets. */
export class Rows {
  readonly #leastHeight: number;
  readonly #inRow: readonly number[];
  readonly #rows: Float32Array[];
  readonly #sum: Float32Array;
  #count = 0;

  /** @param inRow how many pieces in a row, besides one alone, are added up: from few to many */
  constructor(offsets: number, leastHeight: number, inRow: readonly number[]) {
    this.#leastHeight = leastHeight;
    this.#inRow = inRow;
    this.#rows = Array.from({ length: inRow.at(-1) ?? 1 }, () => new Float32Array(offsets));
    this.#sum = new Float32Array(offsets);
  }

  clear(): void {
    this.#count = 0;
    for (const row of this.#rows) row.fill(0);
  }

  /** Takes the correlations of the next piece; undefined where there is no recording. */
  push(lags: Float32Array | undefined, weights: Float32Array | undefined): void {
    const row = this.#rows[this.#count++ % this.#rows.length] as Float32Array;
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
    const scale = sum > 0 ? Math.sqrt(count / sum) : 0;
    for (let i = 0; i < row.length; i++) row[i] = (row[i] as number) * scale;
  }

  /** Gives each offset at which the last piece, or the last few in a row, stand out. */
  standingOut(give: (offset: number, inRow: number, height: number) => void): void {
    const kept = this.#rows.length;
    const back = (k: number) => this.#rows[(this.#count + kept - 1 - k) % kept] as Float32Array;
    const sum = this.#sum;
    sum.set(back(0));
    scan(sum, this.#leastHeight, 1, give);
    let added = 1;
    for (const inRow of this.#inRow) {
      if (this.#count < inRow) break;
      for (; added < inRow; added++) {
        const row = back(added);
        for (let i = 0; i < sum.length; i++) sum[i] = (sum[i] as number) + (row[i] as number);
      }
      scan(sum, this.#leastHeight, inRow, give);
    }
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

function scan(
  sum: Float32Array,
  leastHeight: number,
  inRow: number,
  give: (offset: number, inRow: number, height: number) => void,
): void {
  const scale = Math.sqrt(inRow);
  const bar = leastHeight * scale;
  for (let i = 0; i < sum.length; i++) {
    const value = sum[i] as number;
    if (value > bar || value < -bar) give(i, inRow, Math.abs(value) / scale);
  }
}
