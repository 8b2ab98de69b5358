import { expect, test } from 'vitest';
import type { Meaning } from '../../../src/recording/counter/meaning.ts';
import { settleMeaning } from '../../../src/recording/counter/settle.ts';

const shot = { fps: 24, first: 1, last: 100 };
const meaning: Meaning = { shows: 'frames', padTo: 0, timecode: 'non-drop', hour: 0 };
const looks = (frames: readonly number[]) =>
  frames.map((frame, i) => ({ startSeconds: i, endSeconds: i + 1, frame, exact: true }));

test('a counter that showed 0 counts from 0', () => {
  const settled = settleMeaning(looks([0, 1, 2, 99]), meaning, shot);
  expect(settled.meaning.shows).toBe('from zero');
  expect(settled.looks.map(({ frame }) => frame)).toEqual([1, 2, 3, 100]);
});

test('a counter that fits stays what it was taken for', () => {
  const settled = settleMeaning(looks([1, 2, 100]), meaning, shot);
  expect(settled.meaning.shows).toBe('frames');
  expect(settled.looks.map(({ frame }) => frame)).toEqual([1, 2, 100]);
  expect(settled.orElse).toEqual([]);
});

test('where nothing shown tells frame numbers from counting from 0, that is said', () => {
  expect(settleMeaning(looks([40, 41, 42]), meaning, shot).orElse).toEqual(['from zero']);
  expect(settleMeaning(looks([1040, 1041]), meaning, { fps: 24, first: 1001, last: 1168 }).orElse).toEqual(
    [],
  );
});

test('a shot that begins at 0 is counted from 1 where its last number is one too many', () => {
  const settled = settleMeaning(looks([1, 50, 96]), meaning, { fps: 24, first: 0, last: 95 });
  expect(settled.meaning.shows).toBe('from one');
  expect(settled.looks.map(({ frame }) => frame)).toEqual([0, 49, 95]);
});
