import { describe, expect, it } from 'vitest';
import { spokenWords } from './spoken-words.ts';
import { addErrors, countErrors, lineUp, wordErrorRate } from './word-error-rate.ts';

const errors = (truth: string, heard: string, by: string | RegExp = ' ') =>
  countErrors(truth.split(by), heard === '' ? [] : heard.split(by));

describe('word error rate', () => {
  // The examples every description of Levenshtein's distance uses, from memory.
  it.each([
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['intention', 'execution', 5],
    ['flaw', 'lawn', 2],
  ])('finds the distance of %s and %s', (truth, heard, distance) => {
    const { substitutions, deletions, insertions } = errors(truth, heard, '');
    expect(substitutions + deletions + insertions).toBe(distance);
  });

  it('agrees with the worked example of Jurafsky and Martin, as remembered: 6 + 3 + 1 errors in 13 words, 76.9 %', () => {
    const counted = errors(
      'i um the phone is i left the portable phone upstairs last night',
      'i got it to the fullest i love to portable form of stores last night',
    );
    expect(counted).toEqual({ substitutions: 6, deletions: 1, insertions: 3, length: 13 });
    expect(wordErrorRate(counted)).toBeCloseTo(0.769, 3);
  });

  it('counts each kind as sclite does', () => {
    expect(errors('a b c d', 'a b d')).toEqual({ substitutions: 0, deletions: 1, insertions: 0, length: 4 });
    expect(errors('a b c', 'a x b c')).toEqual({ substitutions: 0, deletions: 0, insertions: 1, length: 3 });
    expect(errors('a b c', 'a x c')).toEqual({ substitutions: 1, deletions: 0, insertions: 0, length: 3 });
    expect(errors('a b c', '')).toEqual({ substitutions: 0, deletions: 3, insertions: 0, length: 3 });
    expect(wordErrorRate(errors('a', 'b c d'))).toBe(3);
  });

  it('adds files before it divides, so that a short one does not weigh as much as a long one', () => {
    const total = addErrors([errors('a', 'b'), errors('a b c d e f g h i', 'a b c d e f g h i')]);
    expect(wordErrorRate(total)).toBe(0.1);
  });

  it('lines up in order', () => {
    expect(lineUp(['a', 'b'], ['b'])).toEqual([
      { truth: 0, heard: null },
      { truth: 1, heard: 0 },
    ]);
  });
});

describe('spoken words', () => {
  it.each([
    ['Frame 42, and 44.', 'frame forty two and forty four'],
    ['110', 'one hundred and ten'],
    ['an ill-disposed man', 'an ill disposed man'],
    ['90210', 'nine zero two one zero'],
    ["I'd  keep it…", "i'd keep it"],
  ])('reads %s', (text, said) => {
    expect(spokenWords(text).join(' ')).toBe(said);
  });
});
