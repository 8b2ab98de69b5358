import { describe, expect, it } from 'vitest';
import { type Shot, shotSchema } from '../../src/basics/shot.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { frameOf } from '../../src/notes/finders/frame-range.ts';
import { frameCandidates } from '../../src/notes/finders/frames.ts';
import { said } from '../language/said.ts';
import { FROM_1, FROM_1001 } from './read.ts';

const language = loadLanguage();
const framesIn = (text: string, shot: Shot): (readonly [number, number])[] =>
  frameCandidates(readTalk(said(text), language), shot, language).map(({ frames }) => frames);

describe('frames said aloud', () => {
  it.each([
    ['on frame ten forty-two', [1042, 1042]],
    ['from ten forty-two to ten fifty', [1042, 1050]],
    ['from 1042 through 1048', [1042, 1048]],
    ['between ten sixty and ten seventy', [1060, 1070]],
    ['on 1118-1126', [1118, 1126]],
    ['from ten forty to, um, the ten fifty', [1040, 1050]],
  ])('are those of a shot from 1001: %s', (text, frames) => {
    expect(framesIn(text, FROM_1001)).toEqual([frames]);
  });

  it.each([
    ['on forty two', [1042, 1042]],
    ['between sixty and seventy', [1060, 1070]],
    ['from one oh five to one ten', [1105, 1110]],
    ['118 to 126', [1118, 1126]],
    ['118 to 26', [1118, 1126]],
  ])('may leave the thousands out: %s', (text, frames) => {
    expect(framesIn(text, FROM_1001)).toEqual([frames]);
  });

  it.each([
    ['at one five five', [[155, 155]]],
    ['from one two zero to one six zero', [[120, 160]]],
    ['stop there, one o eight', [[108, 108]]],
  ])('may be said digit by digit: %s', (text, frames) => {
    expect(framesIn(text, FROM_1)).toEqual(frames);
  });

  it('may be written as one number by the recogniser, where the shot has none of that', () => {
    expect(framesIn('it ticks on 9192', FROM_1)).toEqual([
      [91, 91],
      [92, 92],
    ]);
    expect(framesIn('he is stiff through to 906', FROM_1)).toEqual([[96, 96]]);
    expect(framesIn('on 906 it pops', { ...FROM_1, last: 1200 })).toEqual([[906, 906]]);
  });

  it('are not those of somebody counting', () => {
    expect(framesIn('one two three and gone', FROM_1)).not.toContainEqual([123, 123]);
  });

  it.each([
    ['the last ten frames', [159, 168]],
    ['the first eight frames', [1, 8]],
    ['the last half second', [157, 168]],
    ['the last, what, sixteen frames', [153, 168]],
    ['Last ten. Nothing moves.', [159, 168]],
    ['at six and a half seconds it all goes', [157, 157]],
    ['two seconds in', [49, 49]],
    ['two and a half seconds in', [61, 61]],
    ['from frame ninety to the end', [90, 168]],
    ['from ninety onwards.', [90, 168]],
  ])("may be reckoned from the shot's ends: %s", (text, frames) => {
    expect(framesIn(text, FROM_1)).toEqual([frames]);
  });

  it.each([
    'lips together first? Three or four frames, say',
    'the last few millimetres',
    'he is still for about a second and a half',
    'Bring it back first. Eight frames of that.',
  ])('are no stretch of the shot in other firsts and lasts: %s', (text) => {
    expect(framesIn(text, FROM_1)).toEqual([]);
  });

  it('may be two places', () => {
    expect(framesIn('on frame twelve and again on frame thirty', FROM_1)).toEqual([
      [12, 12],
      [30, 30],
    ]);
  });

  it.each(['on frame two thousand', 'on frame five hundred', 'on frame 169', 'on frame zero'])(
    'are none outside the shot: %s',
    (text) => {
      expect(framesIn(text, FROM_1)).toEqual([]);
    },
  );

  it('are no amounts', () => {
    expect(framesIn('give it three or four more frames', FROM_1)).toEqual([]);
    expect(framesIn('hold it for half a second', FROM_1)).toEqual([]);
  });

  it('reach no end where nobody said how long the shot is', () => {
    expect(framesIn('the last ten frames', shotSchema.parse({}))).toEqual([]);
    expect(framesIn('on frame nine hundred', shotSchema.parse({}))).toEqual([[900, 900]]);
  });
});

describe('a number as a frame', () => {
  it.each([
    [1042, FROM_1001, 1042],
    [42, FROM_1001, 1042],
    [1000, FROM_1001, null],
    [169, FROM_1001, null],
    [2042, FROM_1001, null],
    [168, FROM_1, 168],
    [169, FROM_1, null],
    [0, FROM_1, null],
    [-3, FROM_1, null],
    [12.5, FROM_1, null],
  ])('%d', (value, shot, frame) => {
    expect(frameOf(value, shot)).toBe(frame);
  });
});
