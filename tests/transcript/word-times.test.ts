import { describe, expect, it } from 'vitest';
import { attentionTable, medianFilter } from '../../src/transcript/alignment/attention.ts';
import { wordConfidence, wordsOfPieces } from '../../src/transcript/alignment/pieces.ts';
import { findPauses, loudness } from '../../src/transcript/alignment/quiet.ts';
import { type TimingInput, wordTimes } from '../../src/transcript/alignment/word-times.ts';

/** Three tokens that look at thirds of 30 columns of 0.1 s, at their middles most. */
function input(change: Partial<TimingInput> = {}): TimingInput {
  const rows = [0, 1, 2].map((token) =>
    Float32Array.from({ length: 30 }, (_, column) => Math.max(0, 6 - Math.abs(column - token * 10 - 4.5))),
  );
  return {
    table: attentionTable([rows]),
    columnSeconds: 0.1,
    lagSeconds: 0,
    words: [0, 1, 2].map((row) => ({ first: row, last: row })),
    pauses: [],
    levels: new Float32Array(300),
    seconds: 3,
    ...change,
  };
}

describe('word times', () => {
  it('gives each word the stretch its token looked at', () => {
    const times = wordTimes(input());
    expect(times.map(({ start }) => start)).toEqual([0, expect.closeTo(1, 1), expect.closeTo(2, 1)]);
    expect(times.map(({ end }) => end)).toEqual([expect.closeTo(1, 1), expect.closeTo(2, 1), 3]);
  });

  it('puts a pause between words, not into either', () => {
    const [first, second] = wordTimes(input({ pauses: [{ start: 0.8, end: 1.4 }] }));
    expect(first?.end).toBe(0.8);
    expect(second?.start).toBeCloseTo(1.39, 5);
  });

  it('starts the first word after the silence before it and ends the last before the silence after it', () => {
    const times = wordTimes(
      input({
        pauses: [
          { start: 0, end: 0.3 },
          { start: 2.6, end: 3 },
        ],
      }),
    );
    expect(times[0]?.start).toBeCloseTo(0.29, 5);
    expect(times[2]?.end).toBe(2.6);
  });

  it.each([-5, -0.4, 0.4, 5])('stays in order and inside the region with a lag of %s s', (lagSeconds) => {
    let reached = 0;
    for (const { start, end } of wordTimes(input({ lagSeconds, pauses: [{ start: 0.2, end: 2.8 }] }))) {
      expect(start).toBeGreaterThanOrEqual(reached);
      expect(end).toBeGreaterThanOrEqual(start);
      expect(end).toBeLessThanOrEqual(3);
      reached = end;
    }
  });
});

describe('what word times are made from', () => {
  it('filters by the median, mirrored at the ends', () => {
    expect([...medianFilter(Float32Array.of(0, 0, 9, 0, 0, 5, 5), 3)]).toEqual([0, 0, 0, 0, 0, 5, 5]);
  });

  it('refuses heads of different shapes', () => {
    expect(() => attentionTable([[new Float32Array(3)], [new Float32Array(4)]])).toThrow(RangeError);
    expect(() => attentionTable([])).toThrow(RangeError);
  });

  it('finds a pause of 0.3 s, and not a closure of 0.06 s', () => {
    const sound = Float32Array.from({ length: 32000 }, (_, i) => 0.3 * Math.sin(i / 5));
    for (const [from, to] of [
      [8000, 12800],
      [20000, 20960],
    ]) {
      for (let i = from ?? 0; i < (to ?? 0); i++) sound[i] = 0.0005 * Math.sin(i / 3);
    }
    const pauses = findPauses(loudness(sound));
    expect(pauses).toHaveLength(1);
    expect(pauses[0]?.start).toBeCloseTo(0.5, 1);
    expect(pauses[0]?.end).toBeCloseTo(0.8, 1);
  });

  it('groups pieces into words and leaves punctuation out of their time', () => {
    expect(wordsOfPieces(['▁Hold', '▁the', '▁po', 'se', '.', '▁Now'])).toEqual([
      { first: 0, last: 0, tokens: [0] },
      { first: 1, last: 1, tokens: [1] },
      { first: 2, last: 3, tokens: [2, 3, 4] },
      { first: 5, last: 5, tokens: [5] },
    ]);
  });

  it('is no surer of a word than its tokens allow', () => {
    expect(wordConfidence([1, 1])).toBe(1);
    expect(wordConfidence([0.9, 0.1])).toBeGreaterThan(0.1);
    expect(wordConfidence([0.9, 0.1])).toBeLessThan(Math.sqrt(0.09));
    expect(wordConfidence([])).toBe(0);
  });
});
