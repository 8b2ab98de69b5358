import { describe, expect, it } from 'vitest';
import { warp } from '../../src/transcript/alignment/dtw.ts';

const differences = (a: readonly number[], b: readonly number[]) =>
  Float32Array.from(a.flatMap((x) => b.map((y) => Math.abs(x - y))));

/** The cheapest walk by trying all of them. */
function cheapest(cost: Float32Array, rows: number, columns: number, row = 0, column = 0): number {
  const here = cost[row * columns + column] ?? 0;
  if (row === rows - 1 && column === columns - 1) return here;
  const next = [
    [row + 1, column],
    [row, column + 1],
    [row + 1, column + 1],
  ].filter(([r = 0, c = 0]) => r < rows && c < columns);
  return here + Math.min(...next.map(([r = 0, c = 0]) => cheapest(cost, rows, columns, r, c)));
}

describe('dynamic time warping', () => {
  it('agrees with a textbook example worked by hand, as remembered', () => {
    const walk = warp(differences([1, 1, 2, 3, 2, 0], [0, 1, 1, 2, 3, 2, 1]), 6, 7);
    expect(walk.cost).toBe(2);
  });

  it('matches a series that lingers with the same series at even pace without cost', () => {
    const walk = warp(differences([1, 5, 9], [1, 1, 5, 5, 5, 9]), 3, 6);
    expect(walk.cost).toBe(0);
    expect([...walk.first]).toEqual([0, 2, 5]);
    expect([...walk.last]).toEqual([1, 4, 5]);
  });

  it('finds the cheapest walk of all, on small tables', () => {
    let seed = 7;
    const random = () => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    for (let trial = 0; trial < 60; trial++) {
      const rows = 1 + Math.floor(random() * 5);
      const columns = 1 + Math.floor(random() * 6);
      const cost = Float32Array.from({ length: rows * columns }, () => random() * 4 - 2);
      const walk = warp(cost, rows, columns);
      expect(walk.cost).toBeCloseTo(cheapest(cost, rows, columns), 5);
      expect(walk.first[0]).toBe(0);
      expect(walk.last[rows - 1]).toBe(columns - 1);
      for (let row = 1; row < rows; row++) {
        const gap = (walk.first[row] ?? 0) - (walk.last[row - 1] ?? 0);
        expect(gap === 0 || gap === 1).toBe(true);
      }
    }
  });

  it('refuses a table of another shape', () => {
    expect(() => warp(new Float32Array(5), 2, 3)).toThrow(RangeError);
  });
});
