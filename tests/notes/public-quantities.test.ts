import { recognizeDateTime } from '@microsoft/recognizers-text-date-time';
import { describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import type { AmountUnit } from '../../src/basics/terms.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { frameCandidates } from '../../src/notes/finders/frames.ts';
import { findQuantities } from '../../src/notes/finders/quantities.ts';
import { casesOf } from '../fixtures/recognizers-text/cases.ts';
import { said } from '../language/said.ts';

const language = loadLanguage();

/** The quantities of one unit in a text, the least of each. */
const quantitiesIn = (text: string, unit: AmountUnit): number[] =>
  findQuantities(readTalk(said(text), language), language)
    .filter((quantity) => quantity.unit === unit)
    .map(({ min }) => min);

/** The ends of the ranges of frames in a text, of a shot long enough to hold every one. */
const rangesIn = (text: string): number[] => {
  const shot = shotSchema.parse({ first: 1, last: 2000 });
  return frameCandidates(readTalk(said(text), language), shot, language)
    .filter(({ kind }) => kind === 'range')
    .flatMap(({ frames }) => [...frames]);
};

const percentsIn = (text: string): number[] => quantitiesIn(text, 'percent');
const secondsIn = (text: string): number[] => quantitiesIn(text, 'seconds');

describe.each([
  ['percentages', casesOf('percents'), percentsIn],
  ['ranges', casesOf('ranges'), rangesIn],
  ['durations', casesOf('durations'), secondsIn],
])("Recognizers-Text's specification of %s", (_name, { read, left }, valuesIn) => {
  it.each(read)('is kept: "%s" says %j', (text, values) => {
    expect(valuesIn(text)).toEqual(values);
  });

  it.each(left)('is left where $why: "$said"', ({ said: text, values }) => {
    expect(valuesIn(text)).not.toEqual(values);
  });
});

describe('what the specification says of hours is said of seconds', () => {
  it.each(casesOf('durations').hours)('%s', (text, hours) => {
    const inSeconds = text.replace(/\ban hour/, 'a second').replace(/\bhour/, 'second');
    expect(secondsIn(inSeconds)).toEqual(hours.map((value) => value / 3600));
  });
});

/** The lengths in seconds that Microsoft's library (npm @microsoft/recognizers-text-date-time) finds in a text. */
const reference = (text: string): number[] =>
  recognizeDateTime(text, 'en-us')
    .filter(({ typeName }) => typeName === 'datetimeV2.duration')
    .map(({ resolution }) => Number(resolution.values[0].value));

describe("a length is the one that Microsoft's recogniser reads", () => {
  const COUNTS = [
    'two',
    '3',
    'twelve',
    '2.5',
    'two and a half',
    'three and a quarter',
    'six point seven',
    '1,200',
  ];
  const UNITS = ['second', 'seconds', 'sec', 'secs', 'minutes', 'min'];

  it.each(UNITS)('in %s', (unit) => {
    for (const count of COUNTS) {
      const text = `hold it for ${count} ${unit}`;
      expect([text, ...secondsIn(text)]).toEqual([text, ...reference(text)]);
    }
  });

  it.each([
    ...[
      'a second',
      'another second',
      'half a second',
      'half second',
      'a half second',
      'zero point five seconds',
    ],
    ...[
      'a second and a half',
      'a second and half',
      'two seconds and a half',
      'one and half seconds',
      '.25 seconds',
    ],
    ...[
      'a couple of seconds',
      'couple of seconds',
      'a few seconds',
      'half a dozen seconds',
      'a dozen seconds',
    ],
    ...[
      'a minute',
      'half a minute',
      'a minute and a half',
      'more than a second',
      'less than a couple of seconds',
    ],
  ])('%s', (text) => {
    expect(reference(text)).toHaveLength(1);
    expect(secondsIn(text)).toEqual(reference(text));
  });

  // The recogniser reads "a second" in these, and loses the part.
  it.each([
    ['a third of a second', 0.33],
    ['a quarter of a second', 0.25],
    ['three quarters of a second', 0.75],
    ['two thirds of a second', 0.67],
    ['a tenth of a second', 0.1],
  ])('but for the parts of one: %s', (text, seconds) => {
    expect(secondsIn(text)).toEqual([seconds]);
    expect(reference(text)).toEqual([1]);
  });
});

describe('a span of an amount', () => {
  it.each<[string, number, number]>([
    ['two-three frames', 2, 3],
    ['two three frames', 2, 3],
    ['2-3 frames', 2, 3],
    ['between two and three frames', 2, 3],
    ['from two to four frames', 2, 4],
    ['a frame or two', 1, 2],
  ])('%s', (text, min, max) => {
    expect(findQuantities(readTalk(said(text), language), language)).toMatchObject([{ min, max }]);
  });
});
