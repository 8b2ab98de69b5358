/** Measures of agreement, as plain arithmetic: none knows what a note is. */

/** A part of a whole; null where there is no whole. */
export function share(part: number, whole: number): number | null {
  return whole === 0 ? null : part / whole;
}

/**
 * The harmonic mean of precision and recall (van Rijsbergen, 1979).
 *
 * @returns 0 where nothing was there and nothing given, as the practice scorer has it.
 */
export function fMeasure(hits: number, given: number, there: number): number {
  return given + there === 0 ? 0 : (2 * hits) / (given + there);
}

/**
 * Agreement of two judges beyond chance (Cohen, 1960).
 *
 * @param pairs What the one and what the other called each thing.
 * @returns 1 where both always say the same one word; null where there are no pairs.
 */
export function cohensKappa(pairs: readonly (readonly [string, string])[]): number | null {
  if (pairs.length === 0) return null;
  const first = countOf(pairs.map(([one]) => one));
  const second = countOf(pairs.map(([, other]) => other));
  const agreed = pairs.filter(([one, other]) => one === other).length / pairs.length;
  let byChance = 0;
  for (const [label, count] of first) {
    byChance += (count / pairs.length) * ((second.get(label) ?? 0) / pairs.length);
  }
  return byChance === 1 ? 1 : (agreed - byChance) / (1 - byChance);
}

/**
 * Discounted cumulative gain of a ranking (Järvelin and Kekäläinen, 2002), each gain over log2(1 + rank): the discount
 * that sets rank 2 below rank 1, where theirs with base 2 leaves the two alike.
 */
export function discountedGain(gains: readonly number[]): number {
  return gains.reduce((sum, gain, i) => sum + gain / Math.log2(i + 2), 0);
}

/**
 * The gain of a ranking against that of the best ranking there could be, both to the same depth.
 *
 * @param gains Of what was ranked, first to last.
 * @param possible Of everything that should have been ranked, in any order.
 * @returns null where there is nothing to gain.
 */
export function normalisedGain(
  gains: readonly number[],
  possible: readonly number[],
  depth: number,
): number | null {
  const best = discountedGain([...possible].sort((a, b) => b - a).slice(0, depth));
  return share(discountedGain(gains.slice(0, depth)), best);
}

/** How often each thing occurs. */
export function countOf<T>(things: Iterable<T>): Map<T, number> {
  const counts = new Map<T, number>();
  for (const thing of things) counts.set(thing, (counts.get(thing) ?? 0) + 1);
  return counts;
}

/** The mean; null of nothing. */
export function mean(values: readonly number[]): number | null {
  return share(
    values.reduce((sum, value) => sum + value, 0),
    values.length,
  );
}
