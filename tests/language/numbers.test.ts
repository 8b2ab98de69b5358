import { describe, expect, it } from 'vitest';
import { ENGLISH, loadLanguage, loadNumbers } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { tokensOfText } from '../../src/language/tokens.ts';
import { findQuantities } from '../../src/notes/finders/quantities.ts';
import { said } from './said.ts';

const numbers = loadNumbers(ENGLISH);
const valuesOf = (text: string): number[] => numbers.all(tokensOfText(text)).map(({ value }) => value);

describe('a frame number as leads say it', () => {
  it.each([
    ['ten forty-two', 1042],
    ['ten forty two', 1042],
    ['10 42', 1042],
    ['1042', 1042],
    ['ten oh six', 1006],
    ['one oh five', 105],
    ['two o five', 205],
    ['one ten', 110],
    ['one forty', 140],
    ['one forty two', 142],
    ['a hundred and five', 105],
    ['hundred thirty-eight', 138],
    ['two hundred and twelve', 212],
    ['eleven hundred', 1100],
    ['a thousand and forty two', 1042],
  ])('%s is %i', (text, value) => {
    expect(valuesOf(text)).toEqual([value]);
  });
});

describe('numbers in a sentence', () => {
  it('are several where a comma or a word parts them', () => {
    expect(valuesOf('one, two, three')).toEqual([1, 2, 3]);
    expect(valuesOf('from one hundred and forty to one fifty')).toEqual([140, 150]);
  });

  it('remember the parts they were run together from', () => {
    expect(numbers.all(tokensOfText('on ten forty-two, please'))).toEqual([
      { value: 1042, parts: [10, 42], padded: false, first: 1, last: 3 },
    ]);
  });

  it('are not made of a sigh or of an article', () => {
    expect(valuesOf('oh, that is a lovely a pose')).toEqual([]);
  });

  it('may be broken ones', () => {
    const language = loadLanguage();
    const quantities = findQuantities(readTalk(said('make it six and a half frames'), language), language);
    expect(quantities).toMatchObject([{ min: 6.5, max: 6.5, unit: 'frames' }]);
  });
});
