import { recognizeNumber } from '@microsoft/recognizers-text-number';
import { describe, expect, it } from 'vitest';
import { ENGLISH, loadNumbers } from '../../src/language/language.ts';
import { tokensOfText } from '../../src/language/tokens.ts';
import { casesOf } from '../fixtures/recognizers-text/cases.ts';

const numbers = loadNumbers(ENGLISH);
const valuesIn = (text: string): number[] => numbers.all(tokensOfText(text)).map(({ value }) => value);

describe("Recognizers-Text's specification of numbers", () => {
  const { read, left } = casesOf('numbers');

  it.each(read)('is kept: "%s" says %j', (text, values) => {
    expect(valuesIn(text)).toEqual(values);
  });

  it.each(left)('is left where $why: "$said"', ({ said, values }) => {
    expect(valuesIn(said)).not.toEqual(values);
  });
});

const ONES =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = ' twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');

interface Manner {
  readonly and: string;
  readonly hyphen: string;
}
const MANNERS: readonly Manner[] = [
  { and: ' and ', hyphen: '-' },
  { and: ' ', hyphen: ' ' },
];

/** A number below a million in English words, with or without the British "and". */
function spelled(value: number, manner: Manner): string {
  if (value < 20) return ONES[value] ?? '';
  if (value < 100) {
    const ten = TENS[Math.floor(value / 10) - 1] ?? '';
    return value % 10 ? `${ten}${manner.hyphen}${ONES[value % 10]}` : ten;
  }
  const [scale, name] = value < 1000 ? [100, 'hundred'] : [1000, 'thousand'];
  const rest = value % scale;
  const head = `${spelled(Math.floor(value / scale), manner)} ${name}`;
  if (rest === 0) return head;
  return `${head}${rest < 100 ? manner.and : ' '}${spelled(rest, manner)}`;
}

/** Every number of a short shot, and ever fewer of the larger ones. */
const VALUES = [
  ...Array.from({ length: 130 }, (_, i) => i),
  ...Array.from({ length: 90 }, (_, i) => 130 + i * 13),
  ...Array.from({ length: 40 }, (_, i) => 1301 + i * 997),
  500_000,
  999_999,
];

/** What Microsoft's own library (npm @microsoft/recognizers-text-number) finds in a text. */
const reference = (text: string): number[] =>
  recognizeNumber(text, 'en-us').map(({ resolution }) => Number(resolution.value));

describe("a number is the one that Microsoft's recogniser reads", () => {
  it.each(MANNERS)('in words, joined by "$and" and "$hyphen"', (manner) => {
    for (const value of VALUES) {
      const text = spelled(value, manner);
      expect([text, ...valuesIn(text)]).toEqual([text, ...reference(text)]);
      expect(valuesIn(text)).toEqual([value]);
    }
  });

  it('in digits, with commas between the thousands', () => {
    for (const value of VALUES) {
      const text = value.toLocaleString('en-GB');
      expect([text, ...valuesIn(text)]).toEqual([text, ...reference(text)]);
    }
  });

  it('with decimals, in digits and in words', () => {
    for (const text of [
      ...[
        'six point seven',
        'zero point five',
        'twelve point two five',
        'one hundred and five point zero one',
      ],
      ...['2.5', '0.25', '.25', '10.125', '1,042.5'],
    ]) {
      expect([text, ...valuesIn(text)]).toEqual([text, ...reference(text)]);
    }
  });
});

// Where a lead and a clerk part ways: frame numbers are said in twos and threes of digits, which the recogniser, made for
// sums of money and dates, reads as several numbers.
describe('a frame number is read as leads mean it', () => {
  it.each([
    ['ten forty two', 1042, [10, 42]],
    ['one oh five', 105, [1, 5]],
    ['ten oh six', 1006, [10, 6]],
    ['between one hundred and one fifty', [100, 150], [101, 50]],
    ['between one hundred and two hundred', [100, 200], [300]],
  ])('%s', (text, ours, theirs) => {
    expect(valuesIn(text)).toEqual([ours].flat());
    expect(reference(text)).toEqual(theirs);
  });
});
