import { describe, expect, it } from 'vitest';
import { heardAs } from '../../../src/sheet/writers/heard-as.ts';

const word = (text: string, start: number, heard?: unknown) => ({
  text,
  start,
  end: start + 1,
  confidence: 0.5,
  ...(heard === undefined ? {} : { heard }),
});
const words = [
  word('hold', 0),
  word('four', 1, 'for'),
  word('frames.', 2),
  word('Eye', 3, 'Eyeliner.'),
  word('line.', 4, 'Eyeliner.'),
  word('now', 5, null),
];

describe('what was heard in the place of a word', () => {
  it('is told for the words of a stretch, once for several of them', () => {
    expect(heardAs(words, { start: 0, end: 6 })).toEqual([
      '"four" was heard as "for"',
      '"Eye line" was heard as "Eyeliner"',
    ]);
  });

  it('is told of no other words', () => {
    expect(heardAs(words, { start: 2, end: 3 })).toEqual([]);
    expect(heardAs([], { start: 0, end: 9 })).toEqual([]);
  });
});
