import { expect, test } from 'vitest';
import { scoredWords, withCompounds } from './scored-words.ts';

const read = (text: string) =>
  scoredWords(text.split(' '))
    .map((word) => word.text)
    .join(' ');

test.each([
  ['at ten forty two', 'at 1 0 4 2'],
  ['at 1042', 'at 1 0 4 2'],
  ['at 10 42.', 'at 1 0 4 2'],
  ['at 10-42', 'at 1 0 4 2'],
  ['one thousand and forty two', '1 0 4 2'],
  ['one oh five to one eighteen', '1 0 5 to 1 1 8'],
  ['one hundred and five', '1 0 5'],
  ['105', '1 0 5'],
  ['a hundred and five', '1 0 5'],
  ['a hundred', '1 0 0'],
  ['eleven hundred', '1 1 0 0'],
  ['one thousand two hundred and sixty', '1 2 6 0'],
  ["thirty seven's fine", '3 7 fine'],
  ["37's fine", '3 7 fine'],
  ['and hundreds and more', 'and hundreds and more'],
])('%s is scored as %s', (text, figures) => {
  expect(read(text)).toBe(figures);
});

test('a number points to its first and last word', () => {
  const number = scoredWords(['on', 'ten', 'forty', 'two', 'ease']).slice(1, -1);
  expect(number.map(({ first, last, begins, ends }) => [first, last, begins, ends])).toEqual([
    [1, 3, true, false],
    [1, 3, false, false],
    [1, 3, false, false],
    [1, 3, false, true],
  ]);
});

test('a compound may be written as one word or two', () => {
  expect(withCompounds(['the', 'bed', 'roll'], ['the', 'bedroll'])).toEqual(['the', 'bedroll']);
  expect(withCompounds(['the', 'bed', 'roll'], ['the', 'bed', 'rolled'])).toEqual(['the', 'bed', 'roll']);
  expect(withCompounds(['1', '2'], ['12'])).toEqual(['1', '2']);
});
