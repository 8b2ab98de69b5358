/** Digits that are taken for one another, and what such a mistake costs. */
const ALIKE: readonly string[] = [
  '17',
  '14',
  '38',
  '68',
  '08',
  '06',
  '69',
  '09',
  '56',
  '35',
  '58',
  '27',
  '89',
  '36',
];
const ALIKE_COST = 0.8;
const OTHER_COST = 1.4;
/** Thin digits vanish between others, and two that touch are read as one. */
const DROPPED_COST = 0.9;
const DROPPED_ONE_COST = 0.7;
const ADDED_COST = 1.1;

/**
 * How much must have gone wrong for `shown` to be read as `read`: an edit distance with the mistakes that readers of
 * digits make (values from what was seen go wrong).
 */
export function misreadingCost(shown: string, read: string): number {
  let row = Array.from({ length: read.length + 1 }, (_, added) => added * ADDED_COST);
  for (const digit of shown) {
    const dropped = digit === '1' ? DROPPED_ONE_COST : DROPPED_COST;
    const next = [(row[0] ?? 0) + dropped];
    for (let i = 0; i < read.length; i++) {
      next.push(
        Math.min(
          (row[i] ?? 0) + substitution(digit, read[i] ?? ''),
          (row[i + 1] ?? 0) + dropped,
          (next[i] ?? 0) + ADDED_COST,
        ),
      );
    }
    row = next;
  }
  return row[read.length] ?? 0;
}

function substitution(shown: string, read: string): number {
  if (shown === read) return 0;
  return ALIKE.includes(shown + read) || ALIKE.includes(read + shown) ? ALIKE_COST : OTHER_COST;
}
