import { beforeAll, describe, expect, it } from 'vitest';
import type { Pass } from '../../../src/basics/pass.ts';
import { findPasses } from '../../../src/recording/passes/find-passes.ts';
import { Chance } from '../../bench/frames/chance.ts';
import { mix, type TruePass } from '../../bench/frames/mix.ts';
import type { Play } from '../../bench/frames/plan.ts';
import { makeWay } from '../../bench/frames/room.ts';
import { frameAt, matchPasses } from '../../bench/frames/score.ts';
import { makeShot, type ShotKind, type ShotSound } from '../../bench/frames/shots.ts';
import { MENTORS, makeTalk, makeVoice } from '../../bench/frames/talk.ts';

const FRAMES = { fps: 24, first: 1001 };
const BELIEVED = 0.5;

interface Made {
  readonly shot: ShotSound;
  readonly samples: Float32Array;
  readonly truths: readonly TruePass[];
}

/** Plays under a mentor's voice that is as loud as they are, 10 dB over the room's noise. */
function make(
  seed: number,
  kind: ShotKind,
  shotSeconds: number,
  seconds: number,
  plays: readonly Play[],
): Made {
  const chance = new Chance(seed);
  const shot = makeShot(kind, chance, shotSeconds);
  const names = (MENTORS[0] ?? []).filter((name) => !shot.clips.includes(name));
  const voice = makeVoice(seconds * 16000, names, chance, 2);
  const circumstances = { way: makeWay(chance), clockPpm: 30, noiseDb: 10, voiceDb: 0 };
  const { samples, passes } = mix(shot.samples, plays, voice, circumstances, FRAMES, chance);
  return { shot, samples, truths: passes };
}

function frameErrors(truths: readonly TruePass[], found: readonly Pass[]): number[] {
  const believed = found.filter(({ confidence }) => confidence >= BELIEVED);
  const { pairs, missed, invented } = matchPasses(truths, believed);
  expect(missed).toEqual([]);
  expect(invented).toEqual([]);
  return pairs.map(({ truth, found: pass }) => {
    const middle = (truth.start + truth.end) / 2;
    return Math.abs(frameAt(truth, middle) - frameAt(pass, middle));
  });
}

describe('a shot of speech, steps and effects, played under a voice', () => {
  const plays: Play[] = [
    { at: 1, from: 0, to: 5, manner: 'normal' },
    { at: 6, from: 0, to: 2.2, manner: 'normal' },
    { at: 9.5, from: 1.7, to: 3.1, manner: 'normal' },
    { at: 13, from: 0.5, to: 3.5, manner: 'half, lower' },
    { at: 21, from: 1, to: 4.5, manner: 'half, same pitch' },
  ];
  let made: Made;
  let passes: Pass[];
  const progress: number[] = [];
  beforeAll(async () => {
    made = make(71, 'mixed', 5, 30, plays);
    passes = await findPasses(made.samples, made.shot.samples, FRAMES, {
      onProgress: (done) => progress.push(done),
    });
  }, 240_000);

  it('is found each time: whole, looped, in part, at both kinds of half speed, to the frame', () => {
    const errors = frameErrors(made.truths, passes);
    expect(errors.length).toBe(plays.length);
    for (const error of errors) expect(error).toBeLessThan(1);
  });

  it('gives passes in the order of time that do not overlap, with errors that hold at the ends', () => {
    passes.forEach((pass, i) => {
      expect(pass.start).toBeGreaterThanOrEqual((passes[i - 1]?.end ?? 0) - 0.05);
    });
    for (const { truth, found } of matchPasses(made.truths, passes).pairs) {
      expect(Math.abs(found.first - truth.first)).toBeLessThanOrEqual((found.firstError ?? 0) + 0.5);
      expect(Math.abs(found.last - truth.last)).toBeLessThanOrEqual((found.lastError ?? 0) + 0.5);
    }
  });

  it('tells how far it is, from beginning to end', () => {
    expect(progress.length).toBeGreaterThan(5);
    expect(progress.at(-1)).toBe(1);
    progress.forEach((done, i) => {
      expect(done).toBeGreaterThanOrEqual(progress[i - 1] ?? 0);
    });
  });

  it('stops when it is told to', async () => {
    const signal = AbortSignal.abort(new Error('enough'));
    await expect(findPasses(made.samples, made.shot.samples, FRAMES, { signal })).rejects.toThrow('enough');
  });
});

describe('what cannot be told is not claimed', () => {
  it('finds nothing in a minute of talk without the shot', { timeout: 240_000 }, async () => {
    const shot = makeShot('dialogue', new Chance(72), 6);
    const passes = await findPasses(makeTalk(172, 60, shot.clips), shot.samples, FRAMES);
    expect(passes.filter(({ confidence }) => confidence >= BELIEVED)).toEqual([]);
  });

  it('does not say which of two equal halves of a shot was played', { timeout: 240_000 }, async () => {
    const half = makeShot('effects', new Chance(73), 3);
    const twice = new Float32Array(2 * half.samples.length);
    twice.set(half.samples);
    twice.set(half.samples, half.samples.length);
    const recording = makeTalk(173, 20, half.clips);
    for (const [i, x] of half.samples.entries()) recording[80_000 + i] = (recording[80_000 + i] ?? 0) + x;
    const passes = await findPasses(recording, twice, FRAMES);
    expect(passes.length).toBeGreaterThan(0);
    expect(passes.filter(({ confidence }) => confidence >= BELIEVED)).toEqual([]);
  });

  it('finds nothing in silence, nor in a recording that is shorter than the shot', async () => {
    const { samples } = makeShot('mixed', new Chance(74), 4);
    expect(await findPasses(new Float32Array(80_000), samples, FRAMES)).toEqual([]);
    expect(await findPasses(makeTalk(174, 1, []), samples, FRAMES)).toEqual([]);
    expect(await findPasses(new Float32Array(0), samples, FRAMES)).toEqual([]);
  });
});
