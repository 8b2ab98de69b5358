import { describe, expect, it } from 'vitest';
import { cohensKappa, discountedGain, fMeasure, normalisedGain, share } from '../../src/measure/agreement.ts';

/** Pairs from a table of counts: rows are the first judge's labels, columns the second's. */
function pairsOf(table: readonly (readonly number[])[]): [string, string][] {
  return table.flatMap((row, first) =>
    row.flatMap((count, second) =>
      Array.from({ length: count }, (): [string, string] => [`${first}`, `${second}`]),
    ),
  );
}

describe('kappa', () => {
  // From memory: the three diagnoses of Cohen (1960), as counts of 200: 0.70 agree, 0.41 would by chance, kappa 0.492.
  it('is that of the worked example of Cohen, 1960', () => {
    const pairs = pairsOf([
      [88, 10, 2],
      [14, 40, 6],
      [18, 10, 12],
    ]);
    expect(cohensKappa(pairs)).toBeCloseTo((0.7 - 0.41) / (1 - 0.41), 12);
    expect(cohensKappa(pairs)).toBeCloseTo(0.492, 3);
  });

  // From memory: the textbook's fifty grant proposals with two readers: 0.7 agree, 0.5 would by chance.
  it('is that of a textbook two-by-two table', () => {
    const pairs = pairsOf([
      [20, 5],
      [10, 15],
    ]);
    expect(cohensKappa(pairs)).toBeCloseTo(0.4, 12);
  });

  it('is 1 where both say the same one word, 0 where agreement is chance, below where it is less, null of nothing', () => {
    expect(cohensKappa(pairsOf([[7]]))).toBe(1);
    expect(cohensKappa(pairsOf([[1, 1], [1, 1]]))).toBe(0); // biome-ignore format: a table
    expect(cohensKappa(pairsOf([[0, 1], [1, 0]]))).toBe(-1); // biome-ignore format: a table
    expect(cohensKappa([])).toBeNull();
  });
});

describe('discounted gain', () => {
  // From memory: the encyclopaedia's example, six documents of gain 3, 2, 3, 0, 1, 2, two more of 3 and 2 not found.
  const found = [3, 2, 3, 0, 1, 2];

  it('is that of the worked example', () => {
    expect(discountedGain(found)).toBeCloseTo(6.861, 3);
    expect(normalisedGain(found, found, 6)).toBeCloseTo(0.961, 3);
    expect(normalisedGain(found, [...found, 3, 2], 6)).toBeCloseTo(0.785, 3);
  });

  it('looks no deeper than it is told, in both rankings', () => {
    expect(normalisedGain([0, 3], [3], 1)).toBe(0);
    expect(normalisedGain([3, 0], [3, 3], 1)).toBe(1);
  });

  it('is null where there is nothing to gain', () => {
    expect(normalisedGain([0], [0, 0], 10)).toBeNull();
    expect(normalisedGain([], [], 10)).toBeNull();
  });
});

describe('F and shares', () => {
  it('are the harmonic mean of precision and recall, and 0 of nothing', () => {
    expect(fMeasure(3, 4, 6)).toBeCloseTo((2 * (3 / 4) * (3 / 6)) / (3 / 4 + 3 / 6), 12);
    expect(fMeasure(0, 0, 0)).toBe(0);
  });

  it('are null without a whole', () => {
    expect(share(0, 0)).toBeNull();
    expect(share(1, 4)).toBe(0.25);
  });
});
