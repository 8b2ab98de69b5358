import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { findQuantities } from '../../src/notes/finders/quantities.ts';
import { said } from '../language/said.ts';

const language = loadLanguage();
const quantitiesIn = (text: string): [number, number, string][] =>
  findQuantities(readTalk(said(text), language), language).map(({ min, max, unit }) => [min, max, unit]);

describe('an amount', () => {
  it.each<[text: string, min: number, max: number, unit: string]>([
    ['hold it a couple of frames', 2, 2, 'frames'],
    ['a couple more frames', 2, 2, 'frames'],
    ['drag it a few frames', 3, 4, 'frames'],
    ['give me one or two frames', 1, 2, 'frames'],
    ['three or four more frames', 3, 4, 'frames'],
    ['two to three frames', 2, 3, 'frames'],
    ['ten, twelve frames', 10, 12, 'frames'],
    ['a frame or two', 1, 2, 'frames'],
    ['give it another frame', 1, 1, 'frames'],
    ['take out six drawings', 6, 6, 'frames'],
    ['hold for half a second', 0.5, 0.5, 'seconds'],
    ['a quarter of a second', 0.25, 0.25, 'seconds'],
    ['about two seconds', 2, 2, 'seconds'],
    ['turn it two or three degrees', 2, 3, 'degrees'],
    ['pull it back thirty percent', 30, 30, 'percent'],
    ['pull it back 30%', 30, 30, 'percent'],
    ['take thirty per cent off', 30, 30, 'percent'],
    ['bring it down by half', 50, 50, 'percent'],
    ['add three images', 3, 3, 'frames'],
    ['push the right one three frames back', 3, 3, 'frames'],
    ['one two frames is enough', 1, 2, 'frames'],
    ['Three more frames. Four, if you can.', 3, 4, 'frames'],
    ['four frames later five if you can get it', 4, 5, 'frames'],
    ['shift it four four frames later', 4, 4, 'frames'],
  ])('%s', (text, min, max, unit) => {
    expect(quantitiesIn(text)).toEqual([[min, max, unit]]);
  });

  it('may leave its unit out', () => {
    expect(quantitiesIn('give it two more')).toEqual([[2, 2, 'frames']]);
  });

  it.each(['make it twice as long', 'hold it much longer', 'ease it a lot more', 'on frame forty', ''])(
    'is none in "%s"',
    (text) => {
      expect(quantitiesIn(text)).toEqual([]);
    },
  );

  it('does not reach over the end of a sentence', () => {
    expect(quantitiesIn('Make it thirty. Frames are cheap.')).toEqual([]);
  });
});
