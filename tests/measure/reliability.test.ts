import { describe, expect, it } from 'vitest';
import { type Claim, reliabilityByTag, reliabilityOf } from '../../src/measure/reliability.ts';

function claims(tag: Claim['tag'], ...all: readonly [confidence: number, right: boolean][]): Claim[] {
  return all.map(([confidence, right]) => ({ tag, confidence, right }));
}

describe('expected calibration error', () => {
  it('weighs the gap of each tenth by its claims', () => {
    // 0.9 to 1.0: mean 0.95, 1 of 2 right: gap 0.45 twice. 0.6 to 0.7: mean 0.62, 2 of 3 right: 0.0467 thrice.
    const made = claims('issue', [0.92, true], [0.98, false], [0.6, true], [0.62, true], [0.64, false]);
    const { error, count, bins } = reliabilityOf(made);
    expect(count).toBe(5);
    expect(error).toBeCloseTo((2 * 0.45 + 3 * (2 / 3 - 0.62)) / 5, 12);
    expect(bins[6]).toEqual({ from: 0.6, to: 0.7, count: 3, confidence: expect.closeTo(0.62), right: 2 / 3 });
    expect(bins[0]).toEqual({ from: 0, to: 0.1, count: 0, confidence: null, right: null });
  });

  it('is 0 where what was said comes true, whichever way the bins lie', () => {
    expect(reliabilityOf(claims('role', [0.5, true], [0.5, false], [1, true], [0, false])).error).toBe(0);
  });

  it('puts a lower edge into its bin, and 1 into the last', () => {
    const { bins } = reliabilityOf(claims('role', [0.3, true], [0.7, true], [1, true], [0, true]));
    expect(bins.map(({ count }) => count)).toEqual([1, 0, 0, 1, 0, 0, 0, 1, 0, 1]);
  });

  it('is null of nothing', () => {
    expect(reliabilityOf([]).error).toBeNull();
  });
});

it('tags are held apart', () => {
  const byTag = reliabilityByTag([...claims('role', [1, true]), ...claims('body', [0.9, false])]);
  expect(byTag.role.error).toBe(0);
  expect(byTag.body.error).toBeCloseTo(0.9);
  expect(byTag.basis).toMatchObject({ count: 0, error: null });
});
