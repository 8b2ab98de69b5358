import { expect, test } from 'vitest';
import { movesAsFramesDo } from '../../../src/recording/counter/belief.ts';
import type { Meaning } from '../../../src/recording/counter/meaning.ts';
import type { TrackedLook } from '../../../src/recording/counter/track.ts';

const shot = { fps: 24, first: 0, last: 168 };
const meaning: Meaning = { shows: 'frames', padTo: 0, timecode: 'non-drop', hour: 0 };
const looks = (frames: readonly number[], exact = true): TrackedLook[] =>
  frames.map((frame, i) => ({ startSeconds: i / 24, endSeconds: (i + 1) / 24, frame, exact }));
const upTo = (count: number, of = (i: number) => i) => Array.from({ length: count }, (_, i) => of(i));

test('numbers that run on are believed', () => {
  expect(movesAsFramesDo(looks(upTo(100)), meaning, shot)).toBe(true);
});

test('numbers that never move, or that were mostly misread, are not', () => {
  expect(movesAsFramesDo(looks(upTo(100, () => 42)), meaning, shot)).toBe(false);
  expect(movesAsFramesDo(looks(upTo(100), false), meaning, shot)).toBe(false);
});

test('the frames of a timecode, which begin again each second, are not the frames of a shot', () => {
  expect(movesAsFramesDo(looks(upTo(100, (i) => i % 24)), meaning, shot)).toBe(false);
  expect(movesAsFramesDo(looks(upTo(100, (i) => i % 24)), meaning, { ...shot, last: 23 })).toBe(true);
});
