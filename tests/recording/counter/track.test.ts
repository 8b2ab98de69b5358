import { describe, expect, test } from 'vitest';
import { misreadingCost } from '../../../src/recording/counter/edits.ts';
import type { Meaning } from '../../../src/recording/counter/meaning.ts';
import { trackFrames } from '../../../src/recording/counter/track.ts';

const shot = { fps: 24, first: 1001, last: 1168 };
const meaning: Meaning = { shows: 'frames', padTo: 0, timecode: 'non-drop', hour: 0 };
const crop = { width: 1, height: 1, pixels: new Uint8Array(1) };

/** Looks of a playing counter, one frame each, as they were read. */
function tracked(texts: readonly string[], frameSeconds = 1 / 24): number[] {
  const read = texts.map((text, index) => ({
    index,
    look: { startSeconds: index * frameSeconds, endSeconds: (index + 1) * frameSeconds, crop },
    reading: { text, confidence: text ? 0.9 : 0 },
  }));
  return trackFrames(
    read.map(({ look }) => look),
    read,
    meaning,
    shot,
  ).map(({ frame }) => frame);
}

describe('a counter that plays is followed through', () => {
  const right = [1040, 1041, 1042, 1043, 1044, 1045, 1046];
  test.each([
    ['what was read right', ['1040', '1041', '1042', '1043', '1044', '1045', '1046']],
    ['a dropped digit', ['1040', '1041', '1042', '103', '1044', '1045', '1046']],
    ['digits read as one', ['1040', '1041', '42', '1043', '1044', '1045', '1046']],
    ['a 1 taken for a 7', ['1040', '7041', '1042', '1043', '1044', '1045', '1046']],
    ['another frame of the shot', ['1040', '1041', '1042', '1143', '1044', '1045', '1046']],
    ['nothing', ['1040', '1041', '', '', '1044', '1045', '1046']],
    ['a digit too many', ['1040', '1041', '1042', '1043', '11044', '1045', '1046']],
  ])('%s', (_, texts) => expect(tracked(texts)).toEqual(right));
});

test('a jump that is read twice and more is believed', () => {
  expect(tracked(['1040', '1041', '1042', '1101', '1102', '1103'])).toEqual([
    1040, 1041, 1042, 1101, 1102, 1103,
  ]);
});

test('a shot that stands on one frame keeps it through misreadings', () => {
  expect(tracked(['1077', '1077', '1017', '1077', '077', '1077'], 1)).toEqual(Array(6).fill(1077));
});

describe('misreadings cost by how likely they are', () => {
  test('none costs nothing, digits that look alike little, others more', () => {
    expect(misreadingCost('1042', '1042')).toBe(0);
    expect(misreadingCost('1017', '1011')).toBeLessThan(misreadingCost('1014', '1018'));
    expect(misreadingCost('1042', '142')).toBeLessThan(misreadingCost('1042', '14'));
  });
});
