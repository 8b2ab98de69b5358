import { describe, expect, test } from 'vitest';
import { findRegions, type Region, type RegionOptions } from '../../src/recording/regions.ts';

const STEP = 0.032;
const STEP_SAMPLES = 512;

/** A track and its sound from lines of [seconds, probability, loudness]; speech is loud unless said otherwise. */
function regionsOf(
  lines: readonly (readonly [number, number, number?])[],
  options?: RegionOptions,
): Region[] {
  const probabilities: number[] = [];
  const samples: number[] = [];
  for (const [seconds, probability, loudness = probability / 2] of lines) {
    for (let step = 0; step < Math.round(seconds / STEP); step++) {
      probabilities.push(probability);
      for (let i = 0; i < STEP_SAMPLES; i++) samples.push(i % 2 ? loudness : -loudness);
    }
  }
  const track = { stepSeconds: STEP, probabilities: Float32Array.from(probabilities) };
  return findRegions(track, Float32Array.from(samples), options);
}

const lengthsOf = (regions: readonly Region[]) => regions.map(({ start, end }) => end - start);

describe('speech keeps real sound on each side', () => {
  test('256 ms, where there is so much', () => {
    const [region] = regionsOf([
      [2, 0],
      [3.2, 0.9],
      [2, 0],
    ]);
    expect(region?.start).toBeCloseTo(2.016 - 0.256, 3);
    expect(region?.end).toBeCloseTo(2.016 + 3.2 + 0.256, 3);
  });

  test('less at the beginning and the end of the recording', () => {
    const [region] = regionsOf([[3.2, 0.9]]);
    expect(region).toEqual({ start: 0, end: 3.2, hear: { start: 0, end: 3.2 } });
  });
});

test('silence has no regions, and neither have a key click or a murmur', () => {
  expect(regionsOf([[5, 0]])).toEqual([]);
  expect(
    regionsOf([
      [2, 0],
      [0.064, 0.9],
      [2, 0],
    ]),
  ).toEqual([]);
  expect(
    regionsOf([
      [2, 0],
      [2, 0.45],
      [2, 0],
    ]),
  ).toEqual([]);
});

test('a short word is kept', () => {
  expect(
    regionsOf([
      [2, 0],
      [0.16, 0.8],
      [2, 0],
    ]).length,
  ).toBe(1);
});

test('a voice that wavers stays in one piece', () => {
  expect(
    regionsOf(
      [
        [2, 0],
        [1, 0.9],
        [0.4, 0.4],
        [1, 0.9],
        [2, 0],
      ],
      { joinGapSeconds: 0 },
    ).length,
  ).toBe(1);
});

describe('short pieces', () => {
  const words: [number, number][] = [
    [1, 0],
    [2, 0.9],
    [1.5, 0],
    [2, 0.9],
    [1.5, 0],
    [2, 0.9],
    [1, 0],
  ];

  test('are joined while they fit under the cap', () => {
    expect(regionsOf(words).length).toBe(1);
    expect(regionsOf(words, { maxSeconds: 7 }).length).toBe(2);
    expect(regionsOf(words, { maxSeconds: 5 }).length).toBe(3);
  });

  test('are left apart across a long silence', () => {
    expect(
      regionsOf([
        [1, 0],
        [1, 0.9],
        [6, 0],
        [1, 0.9],
        [1, 0],
      ]).length,
    ).toBe(2);
  });
});

describe('speech longer than the cap', () => {
  test('is cut in the least speech-like step near the cap', () => {
    const regions = regionsOf([
      [12, 0.95],
      [0.096, 0.6],
      [12, 0.95],
    ]);
    expect(regions.length).toBe(2);
    expect(regions[0]?.end).toBeGreaterThanOrEqual(11.99);
    expect(regions[0]?.end).toBeLessThan(12.1);
  });

  test('where all steps are as likely speech, is cut in the quietest', () => {
    const regions = regionsOf([
      [10.016, 0.95],
      [0.064, 0.95, 0.01],
      [12, 0.95],
    ]);
    expect(regions[0]?.end).toBeCloseTo(10.0, 0);
    expect(regions.length).toBe(2);
  });

  test('is cut at a pause rather than in a quiet voice', () => {
    const regions = regionsOf([
      [10, 0.95],
      [0.16, 0.1, 0.2],
      [2, 0.95],
      [0.16, 0.95, 0.001],
      [12, 0.95],
    ]);
    expect(regions[0]?.end).toBeGreaterThan(9.9);
    expect(regions[0]?.end).toBeLessThan(10.2);
  });

  test('never leaves a region over the cap, a scrap, a hole or a word heard twice', () => {
    for (const seconds of [14.9, 15.2, 16, 29.5, 30.1, 47, 100]) {
      const regions = regionsOf([
        [1, 0],
        [seconds, 0.95],
        [1, 0],
      ]);
      for (const length of lengthsOf(regions)) {
        expect(length).toBeLessThanOrEqual(15.0001);
        expect(length).toBeGreaterThan(0.9);
      }
      regions.slice(1).forEach((region, i) => {
        expect(region.start).toBe(regions[i]?.end);
      });
      expect(regions.at(-1)?.end).toBeGreaterThan(1 + seconds - 0.1);
    }
  });

  test('is heard a second past a cut in mid-speech by both sides, and not past one in a pause', () => {
    const [before, after] = regionsOf([[20, 0.95]]);
    expect(before?.hear.start).toBe(before?.start);
    expect((before?.hear.end ?? 0) - (before?.end ?? 0)).toBeCloseTo(1, 1);
    expect((after?.start ?? 0) - (after?.hear.start ?? 0)).toBeCloseTo(1, 1);
    expect(after?.hear.end).toBe(after?.end);
    for (const { start, end, hear } of regionsOf([
      [12, 0.95],
      [0.16, 0.1],
      [10, 0.95],
    ])) {
      expect(hear).toEqual({ start, end });
    }
  });

  test('the cap can be another', () => {
    expect(Math.max(...lengthsOf(regionsOf([[40, 0.95]], { maxSeconds: 8 })))).toBeLessThanOrEqual(8.0001);
  });
});

test('no region ends behind the recording, though its last step does', () => {
  const track = { stepSeconds: STEP, probabilities: new Float32Array(10).fill(0.9) };
  const whole = { start: 0, end: (9 * 512 + 100) / 16000 };
  expect(findRegions(track, new Float32Array(9 * 512 + 100).fill(0.1))).toEqual([{ ...whole, hear: whole }]);
});
