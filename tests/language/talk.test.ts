import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { hitsWithin, numbersWithin, pauseBefore, rangeOfWords, readTalk } from '../../src/language/talk.ts';
import { said } from './said.ts';

const language = loadLanguage();
const talk = readTalk(
  said('The left knee pops on twenty-two.', '--', 'Ease the elbow on ten forty-two.'),
  language,
);
const formsOf = (first: number, last: number): string =>
  talk.tokens
    .slice(first, last + 1)
    .map(({ form }) => form)
    .join(' ');

describe('a talk', () => {
  it('is told by its words, two tokens where one word says two', () => {
    expect(formsOf(0, talk.tokens.length)).toBe(
      'the left knee pops on twenty two ease the elbow on ten forty two',
    );
  });

  it('keeps what the lexicons find in the order of speech', () => {
    const firsts = talk.hits.map(({ first }) => first);
    expect(firsts).toEqual([...firsts].sort((a, b) => a - b));
    const parts = talk.hits.filter(({ lexicon }) => lexicon === 'parts').map(({ means }) => means);
    expect(parts).toEqual(['knee', 'elbow']);
    expect(talk.hits).toContainEqual(expect.objectContaining({ lexicon: 'issues/pop', means: 'pop' }));
    expect(talk.hits).toContainEqual(expect.objectContaining({ lexicon: 'sides', means: 'left' }));
  });

  it('gives of a stretch only what lies wholly inside it', () => {
    const range = rangeOfWords(talk, 7, 12);
    expect(range && formsOf(range.first, range.last)).toBe('ease the elbow on ten forty two');
    expect(range && numbersWithin(talk, range).map(({ value }) => value)).toEqual([1042]);
    expect(range && hitsWithin(talk, range).some(({ means }) => means === 'knee')).toBe(false);
    expect(numbersWithin(talk, { first: 0, last: 5 })).toEqual([]);
  });

  it('has no tokens in words without a letter or a digit', () => {
    expect(rangeOfWords(talk, 6, 6)).toBeNull();
  });

  it('knows the silence between words, and none inside a word', () => {
    const two = talk.tokens.findIndex(({ form }) => form === 'two');
    const ease = talk.tokens.findIndex(({ form }) => form === 'ease');
    expect(pauseBefore(talk, two)).toBe(0);
    expect(pauseBefore(talk, 0)).toBe(0);
    expect(pauseBefore(talk, ease)).toBeCloseTo(0.5 + 0.36 + 0.5, 6);
  });

  it('may be empty', () => {
    const silence = readTalk([], language);
    expect(silence).toMatchObject({ tokens: [], hits: [], numbers: [] });
    expect(rangeOfWords(silence, 0, 10)).toBeNull();
  });
});
