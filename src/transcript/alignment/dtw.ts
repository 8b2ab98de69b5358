/** Where each row of a table was matched: its first and last column, both included. */
export interface Warp {
  readonly first: Int32Array;
  readonly last: Int32Array;
}

const STAY = 0;
const DOWN = 1;
const BOTH = 2;

/**
 * Dynamic time warping: the cheapest walk through a table from its first cell to its last, a step going one row down, one
 * column right, or both; the cost is the sum of all cells walked over (Sakoe and Chiba, "Dynamic programming algorithm
 * optimization for spoken word recognition", 1978, with symmetric steps of equal weight and no slope constraint).
 *
 * @param cost The table, row after row.
 * @param rows Number of rows, at least 1.
 * @param columns Number of columns, at least 1.
 * @returns The columns of each row on the cheapest walk, and its whole cost. Of equal walks the more diagonal is taken.
 */
export function warp(cost: Float32Array, rows: number, columns: number): Warp & { readonly cost: number } {
  if (rows < 1 || columns < 1 || cost.length !== rows * columns) {
    throw new RangeError(`a table of ${cost.length} cells is not ${rows} by ${columns}`);
  }
  const infinite = Number.POSITIVE_INFINITY;
  const step = new Uint8Array(rows * columns);
  let above = new Float64Array(columns).fill(infinite);
  let here = new Float64Array(columns);
  for (let row = 0; row < rows; row++) {
    let left = infinite;
    let diagonal = row === 0 ? 0 : infinite;
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      const up = above[column] ?? infinite;
      const best = Math.min(diagonal, up, left);
      step[cell] = best === diagonal ? BOTH : best === up ? DOWN : STAY;
      left = best + (cost[cell] ?? 0);
      here[column] = left;
      diagonal = up;
    }
    [above, here] = [here, above];
  }
  return { ...trace(step, rows, columns), cost: above[columns - 1] ?? 0 };
}

function trace(step: Uint8Array, rows: number, columns: number): Warp {
  const first = new Int32Array(rows);
  const last = new Int32Array(rows);
  let row = rows - 1;
  let column = columns - 1;
  last[row] = column;
  while (row > 0 || column > 0) {
    const taken = row === 0 ? STAY : column === 0 ? DOWN : step[row * columns + column];
    if (taken !== STAY) first[row] = column;
    if (taken !== DOWN) column--;
    if (taken !== STAY) last[--row] = column;
  }
  first[0] = 0;
  return { first, last };
}
