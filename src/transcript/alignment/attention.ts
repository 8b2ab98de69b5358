/** One head of one layer of a decoder. */
export interface Head {
  readonly layer: number;
  readonly head: number;
}

/** For each token (a row) how strongly each stretch of the sound (a column) belongs to it; rows one after another. */
export interface AttentionTable {
  readonly rows: number;
  readonly columns: number;
  /** Standardised and smoothed: for matching tokens with sound. */
  readonly values: Float32Array;
  /** The plain mean of the heads: where a token looked most. */
  readonly weights: Float32Array;
}

/** What makes the median steady against single frames without smearing a short word. */
const MEDIAN_WIDTH = 7;

/**
 * Makes one table out of the attention of several heads.
 *
 * Each head's columns are brought to mean 0 and deviation 1 over the tokens, so that a frame every token looks at says
 * nothing; each row is median filtered over time; then the heads are averaged. This is the recipe that openai/whisper
 * published for its word times, with heads chosen on hand-timed speech.
 *
 * @param heads For each head its rows: one array of weights over the encoder's frames for each token.
 * @throws RangeError where there are no heads, or heads of different shapes.
 */
export function attentionTable(heads: readonly (readonly Float32Array[])[]): AttentionTable {
  const rows = heads[0]?.length ?? 0;
  const columns = heads[0]?.[0]?.length ?? 0;
  if (rows === 0 || columns === 0) throw new RangeError('there is no attention to time words by');
  const values = new Float32Array(rows * columns);
  const weights = new Float32Array(rows * columns);
  for (const head of heads) {
    if (head.length !== rows || head.some((row) => row.length !== columns)) {
      throw new RangeError('the heads of a decoder must have one shape');
    }
    const scores = standardised(head, columns);
    for (let row = 0; row < rows; row++) {
      const smooth = medianFilter(scores.subarray(row * columns, (row + 1) * columns), MEDIAN_WIDTH);
      for (let column = 0; column < columns; column++) {
        const cell = row * columns + column;
        values[cell] = (values[cell] ?? 0) + (smooth[column] ?? 0) / heads.length;
        weights[cell] = (weights[cell] ?? 0) + (head[row]?.[column] ?? 0) / heads.length;
      }
    }
  }
  return { rows, columns, values, weights };
}

function standardised(head: readonly Float32Array[], columns: number): Float32Array {
  const out = new Float32Array(head.length * columns);
  for (let column = 0; column < columns; column++) {
    let sum = 0;
    let squares = 0;
    for (const row of head) {
      const weight = row[column] ?? 0;
      sum += weight;
      squares += weight * weight;
    }
    const mean = sum / head.length;
    const deviation = Math.sqrt(Math.max(0, squares / head.length - mean * mean)) || 1;
    head.forEach((row, index) => {
      out[index * columns + column] = ((row[column] ?? 0) - mean) / deviation;
    });
  }
  return out;
}

/**
 * The median of each value and its neighbours; the ends are mirrored.
 *
 * @param width An odd number of values.
 */
export function medianFilter(values: Float32Array, width: number): Float32Array {
  const half = width >> 1;
  const last = values.length - 1;
  const window = new Float32Array(width);
  return values.map((_, index) => {
    for (let offset = -half; offset <= half; offset++) {
      const mirrored = Math.abs(index + offset);
      const at = mirrored > last ? 2 * last - mirrored : mirrored;
      window[offset + half] = values[Math.min(last, Math.max(0, at))] ?? 0;
    }
    return window.sort()[half] ?? 0;
  });
}
