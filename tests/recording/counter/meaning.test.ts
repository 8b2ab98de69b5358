import { describe, expect, test } from 'vitest';
import { digitsOf, frameOf, guessMeaning } from '../../../src/recording/counter/meaning.ts';

const shot = { fps: 24, first: 1001, last: 1168 };
const read = (...texts: string[]) => texts.map((text) => ({ text, confidence: 0.95 }));

describe('what a counter shows is told by the shot', () => {
  test.each([
    ['frames', shot, ['1001', '1042', '1168']],
    ['from one', shot, ['1', '42', '168']],
    ['from zero', shot, ['0', '42', '167']],
    ['timecode', shot, ['00:00:00:00', '00:00:01:17', '00:00:06:23']],
    ['timecode of the frame number', shot, ['00:00:41:17', '00:00:43:10']],
    ['frames', { ...shot, last: null }, ['1001', '1042']],
    ['from one', { ...shot, last: null }, ['3', '42']],
    ['frames', { fps: 24, first: 101, last: 220 }, ['101', '120', '180']],
    ['from one', { fps: 24, first: 101, last: 220 }, ['1', '100', '120']],
  ] as const)('%s', (shows, range, texts) => {
    expect(guessMeaning(read(...texts), range)?.meaning.shows).toBe(shows);
  });

  test('digits in front are filled up as the counter does', () => {
    const guess = guessMeaning(read('0001', '0042', '0120'), { fps: 24, first: 1, last: 144 });
    expect(guess && digitsOf(7, guess.meaning, { fps: 24, first: 1, last: 144 })).toBe('0007');
  });

  test('timecode that begins at an hour is counted from there', () => {
    const guess = guessMeaning(read('01:00:00:00', '01:00:01:17', '01:00:04:02'), shot);
    expect(guess && frameOf('01:00:01:17', guess.meaning, shot)).toBe(1042);
  });

  // OpenTimelineIO's published value: frame 1800 at 30000/1001 is 00:01:00;02 where numbers are dropped.
  test('dropped numbers are known by the semicolon', () => {
    const long = { fps: 29.97, first: 0, last: 3000 };
    const guess = guessMeaning(read('00:00:59;29', '00:01:00;02', '00:01:10;00'), long);
    expect(guess && frameOf('00:01:00;02', guess.meaning, long)).toBe(1800);
  });

  test('numbers that are nowhere in the shot say so by their share', () => {
    expect(guessMeaning(read('500', '640', '700'), shot)?.share).toBe(0);
    expect(guessMeaning(read('', ''), shot)).toBeNull();
  });
});
