import { describe, expect, test } from 'vitest';
import type { Pass } from '../../../src/basics/pass.ts';
import { passesOf } from '../../../src/recording/counter/passes.ts';
import type { TrackedLook } from '../../../src/recording/counter/track.ts';

/** Looks of a counter recorded at 30 pictures a second, from what each picture shows. */
function looksOf(frames: readonly number[]): TrackedLook[] {
  const looks: TrackedLook[] = [];
  frames.forEach((frame, i) => {
    const last = looks.at(-1);
    const endSeconds = (i + 1) / 30;
    if (last?.frame === frame) looks[looks.length - 1] = { ...last, endSeconds };
    else looks.push({ startSeconds: i / 30, endSeconds, frame, exact: true });
  });
  return looks;
}

/** The frame that passes tell for a time. */
function told(passes: readonly Pass[], seconds: number): number | null {
  const pass = passes.find(({ start, end }) => start <= seconds && seconds < end);
  if (!pass) return null;
  return Math.floor(
    pass.first + ((pass.last - pass.first) * (seconds - pass.start)) / (pass.end - pass.start),
  );
}

const stands = (frame: number, pictures: number) => Array<number>(pictures).fill(frame);
const plays = (from: number, pictures: number, fps: number) =>
  Array.from({ length: pictures }, (_, i) => from + Math.floor((i * fps) / 30 + 1e-9));

describe('a stretch that stands, one that plays', () => {
  const frames = [...stands(1001, 30), ...plays(1002, 60, 24), ...stands(1049, 45)];
  const passes = passesOf(looksOf(frames), 24);

  test('are a pass each', () => {
    expect(passes.map(({ first, last }) => first === last)).toEqual([true, false, true]);
    const [, playing] = passes;
    expect(playing && (playing.last - playing.first) / (playing.end - playing.start)).toBeCloseTo(24, 0);
  });

  test('tell the frame of every picture', () => {
    expect(frames.map((_, i) => told(passes, i / 30 + 0.004))).toEqual(frames);
  });
});

test.each([
  ['half speed', plays(1001, 90, 12)],
  ['a rate of the recorder below the shot', plays(1001, 60, 60)],
  ['backwards', plays(1001, 60, 24).reverse()],
])('%s is one pass', (_, frames) => {
  const passes = passesOf(looksOf([...stands(1168, 20), ...frames]), 24);
  expect(passes).toHaveLength(2);
});

test('a loop parts two passes', () => {
  const frames = [...plays(1140, 35, 24), ...plays(1001, 60, 24)];
  const passes = passesOf(looksOf(frames), 24);
  expect(passes).toHaveLength(2);
  expect(frames.map((_, i) => told(passes, i / 30 + 0.004))).toEqual(frames);
});

test('readings that do not agree lower the confidence', () => {
  const looks = looksOf(stands(1042, 30));
  const [sure] = passesOf(looks, 24);
  const [unsure] = passesOf(
    looks.map((look) => ({ ...look, exact: false })),
    24,
  );
  expect(sure?.confidence).toBeGreaterThan(0.9);
  expect(unsure?.confidence).toBeLessThan(0.5);
});

test('a pass with no seconds at all is never made', () => {
  for (const { start, end } of passesOf(looksOf([1, 2, 3, 9, 8, 30, 30, 2]), 24))
    expect(end).toBeGreaterThan(start);
});
