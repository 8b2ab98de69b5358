import { describe, expect, it } from 'vitest';
import { readHeardNumbers } from '../../../src/language/heard-numbers.ts';
import { homophoneFaults } from '../../../src/transcript/glossary/homophone-faults.ts';
import { homophoneMender } from '../../../src/transcript/glossary/homophones.ts';

const numbers = readHeardNumbers();
const mend = homophoneMender(numbers);
const heard = (text: string) =>
  text.split(' ').map((word, index) => ({ text: word, start: index, end: index + 1, confidence: 0.7 }));
const text = (words: readonly { text: string }[]) => words.map((word) => word.text).join(' ');

describe('numbers that were written as other words', () => {
  it.each([
    ['let them settle for more frames', 'let them settle four more frames'],
    ['the neck to frames, and the whiskers', 'the neck two frames, and the whiskers'],
    ['Too frames after the ribs.', 'Two frames after the ribs.'],
    ['left foot to hundred and ten', 'left foot two hundred and ten'],
    ['hold it to or three more', 'hold it two or three more'],
    ['about ate frames late', 'about eight frames late'],
  ])('are mended where only a number can be meant: %s', (before, after) =>
    expect(text(mend(heard(before)))).toBe(after),
  );

  it.each([
    'go to frames forty to fifty',
    'from frame 40 to frame 50',
    'hold it for twelve frames',
    'that is what it is for. Frames are cheap',
    'look for frames that pop',
    'he is asking for more',
    '',
  ])('are left alone where a word can be meant: %s', (said) =>
    expect(text(mend(said === '' ? [] : heard(said)))).toBe(said),
  );

  it('keep what was heard beside them, their time and their doubt', () => {
    const [, word] = mend(heard('settle for frames'));
    expect(word).toEqual({ text: 'four', start: 1, end: 2, confidence: 0.7, heard: 'for' });
  });

  it('come out as the table says of itself', () => {
    expect(numbers.homophones.length).toBeGreaterThan(3);
    expect(homophoneFaults(numbers)).toEqual([]);
    const [one] = numbers.homophones;
    const wrong = { ...one, yes: 'nothing', no: 'to frames' } as (typeof numbers.homophones)[number];
    expect(homophoneFaults({ ...numbers, homophones: [wrong] }).map(({ line }) => line)).toEqual([
      'yes',
      'no',
    ]);
  });
});
