import { describe, expect, it } from 'vitest';
import {
  type ChainModel,
  classify,
  emissions,
  forwardBackward,
  likeliest,
  logSumExp,
  marginals,
} from '../../src/language/chain-model.ts';

/** Numbers between -2 and 2 that are the same each time (a linear congruential generator). */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return (state / 2 ** 32) * 4 - 2;
  };
}

function randomModel(seed: number): ChainModel {
  const next = generator(seed);
  const row = (): number[] => [next(), next(), next()];
  const weights = Object.fromEntries(['a', 'b', 'c', 'd'].map((feature) => [feature, row()]));
  return { labels: ['fix', 'keep', 'aside'], weights, transitions: [row(), row(), row()] };
}

const SEQUENCE = [['a', 'b'], ['c'], ['b', 'd', 'never seen'], [], ['a']];

/** Every label sequence with its log score, the long way round. */
function everyPath(model: ChainModel): { path: number[]; score: number }[] {
  const scores = emissions(model, SEQUENCE);
  let paths: { path: number[]; score: number }[] = [{ path: [], score: 0 }];
  for (const own of scores) {
    paths = paths.flatMap(({ path, score }) =>
      own.map((value, label) => {
        const before = path.at(-1);
        const step = before === undefined ? 0 : (model.transitions[before]?.[label] ?? Number.NaN);
        return { path: [...path, label], score: score + value + step };
      }),
    );
  }
  return paths;
}

describe.each([1, 2, 3, 4, 5])('a chain of random weights (seed %i)', (seed) => {
  const model = randomModel(seed);
  const paths = everyPath(model);
  const total = logSumExp(paths.map(({ score }) => score));

  it('sums up all label sequences', () => {
    expect(paths).toHaveLength(3 ** SEQUENCE.length);
    expect(forwardBackward(emissions(model, SEQUENCE), model.transitions).total).toBeCloseTo(total, 9);
  });

  it('gives each item the share of the sequences that label it so', () => {
    const rows = marginals(model, SEQUENCE);
    rows.forEach((row, item) => {
      expect(row.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
      row.forEach((value, label) => {
        const those = paths.filter(({ path }) => path[item] === label).map(({ score }) => score);
        expect(value).toBeCloseTo(Math.exp(logSumExp(those) - total), 9);
      });
    });
  });

  it('finds the one likeliest sequence', () => {
    const best = paths.reduce((a, b) => (b.score > a.score ? b : a));
    expect(likeliest(model, SEQUENCE)).toEqual(best.path);
  });
});

describe('a chain model', () => {
  it('of an empty talk says nothing', () => {
    expect(marginals(randomModel(1), [])).toEqual([]);
    expect(likeliest(randomModel(1), [])).toEqual([]);
  });

  it('of one item is a logistic regression', () => {
    const model: ChainModel = { labels: ['no', 'yes'], weights: { cue: [0, Math.log(3)] }, transitions: [] };
    expect(classify(model, ['cue']).get('yes')).toBeCloseTo(0.75, 9);
    expect(classify(model, ['constructor', 'other']).get('yes')).toBeCloseTo(0.5, 9);
  });

  it('stays finite over a long talk and large weights', () => {
    const model = randomModel(7);
    const sequence = Array.from({ length: 3000 }, () => ['a', 'b', 'c']);
    for (const row of marginals(model, sequence))
      expect(row.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 6);
    expect(logSumExp([1000, 1000])).toBeCloseTo(1000 + Math.LN2, 9);
    expect(logSumExp([-Infinity, -Infinity])).toBe(-Infinity);
  });
});
