import { describe, expect, it } from 'vitest';
import { combinePasses, type Pass } from '../../../src/basics/pass.ts';
import { loadLanguage } from '../../../src/language/language.ts';
import { readTalk } from '../../../src/language/talk.ts';
import { playheadOf } from '../../../src/notes/playhead/playhead.ts';
import { findSteps } from '../../../src/notes/playhead/steps.ts';
import { said } from '../../language/said.ts';
import { FROM_1001 } from '../read.ts';

const language = loadLanguage();
const NOTHING = { steps: [], named: [] };

/** Two seconds of the shot from its first frame, played from the second second of the recording. */
const PLAYED: Pass = { start: 2, end: 4, first: 1001, last: 1049, source: 'sound', confidence: 1 };
const LOGGED: Pass = { ...PLAYED, source: 'log' };

describe('where the shot stood', () => {
  it('goes with the playing shot, and stands where it stopped', () => {
    const { at } = playheadOf([PLAYED], NOTHING, FROM_1001);
    expect(at(1)).toBeNull();
    // Half way, less the time that people need to say so: 24 frames a second is film's rate (shared fact of the trade).
    expect(at(3.3)).toMatchObject({ frame: 1025, pace: 24 });
    expect(at(4.5)).toMatchObject({ frame: 1049, pace: 0 });
  });

  it('is less sure the longer ago the shot was heard, unless the player itself tells', () => {
    const heard = playheadOf([PLAYED], NOTHING, FROM_1001);
    expect(heard.at(64)?.confidence).toBeLessThan(heard.at(5)?.confidence ?? 0);
    expect(playheadOf([LOGGED], NOTHING, FROM_1001).at(64)?.confidence).toBe(1);
  });

  it('never leaves the shot: played out it stays on the last frame', () => {
    const { at } = playheadOf([{ ...PLAYED, last: 1169 }], NOTHING, FROM_1001);
    expect(at(5)?.frame).toBe(1168);
  });

  it('was a moment before the end where the shot has just run out, and on the end where it has long stopped', () => {
    const toTheEnd: Pass = { start: 0, end: 2, first: 1121, last: 1169, source: 'log', confidence: 1 };
    const resting: Pass = { ...toTheEnd, start: 2, end: 60, first: 1168, last: 1168 };
    const { at } = playheadOf([toTheEnd, resting], NOTHING, FROM_1001);
    expect(at(2.5, 1)?.frame).toBe(1157);
    expect(at(4, 1)?.frame).toBe(1168);
  });

  it('is the frame that was stepped to, and not what was played before it', () => {
    const stepping: Pass = { ...LOGGED, start: 4, end: 5, first: 1049, last: 1052 };
    const { at } = playheadOf([LOGGED, stepping], NOTHING, FROM_1001);
    expect(at(4.7, 1)).toMatchObject({ frame: 1051, pace: 0 });
  });

  it('follows a frame that was said since, and the steps after it, where only the sound is known', () => {
    const told = {
      named: [{ seconds: 20, frame: 1100 }],
      steps: [
        { seconds: 10, frames: 5 },
        { seconds: 22, frames: -2 },
      ],
    };
    const heard = playheadOf([PLAYED], told, FROM_1001);
    expect(heard.at(15)?.frame).toBe(1054);
    expect(heard.at(21)?.frame).toBe(1100);
    expect(heard.at(30)?.frame).toBe(1098);
    expect(playheadOf([LOGGED], told, FROM_1001).at(30)?.frame).toBe(1049);
    expect(playheadOf([], told, FROM_1001).at(30)).toMatchObject({ frame: 1098, pass: null });
  });
});

describe('a step told in words', () => {
  const stepsIn = (...breaths: string[]): number[] =>
    findSteps(readTalk(said(...breaths), language), language).map(({ frames }) => frames);

  it.each([
    [
      ['back two', 'and see that', 'one more frame'],
      [-2, 1],
    ],
    [['Hang on, back one, back one, 71.'], [-1, -1]],
    [['Okay, go back a couple.'], [-2]],
    [['Step forward three frames. There.'], [3]],
    [['No, previous frame.'], [-1]],
  ])('is followed: %s', (breaths, frames) => {
    expect(stepsIn(...breaths)).toEqual(frames);
  });

  it.each([
    'give the wrist one more frame',
    'Let me run it one more time.',
    'Flop back, two or three frames, I think.',
    'She goes back six steps and catches herself.',
    'put six frames on the front',
    'the one before lets go too early',
    'Go back. Fifty-eight, on us.',
  ])('is not heard in: %s', (text) => {
    expect(stepsIn(text)).toEqual([]);
  });
});

describe('the span that was played', () => {
  it('is the last playing, told of in the rest after it', () => {
    const rest: Pass = { ...LOGGED, start: 4, end: 30, first: 1049, last: 1049 };
    const { spanAt } = playheadOf([LOGGED, rest], NOTHING, FROM_1001);
    expect(spanAt(1)).toBeNull();
    expect(spanAt(10)).toMatchObject({ first: 1001, last: 1049 });
    expect(spanAt(3)).toMatchObject({ first: 1001, last: 1025 });
  });

  it('is not the step or two that was taken after it', () => {
    const step: Pass = { ...LOGGED, start: 6, end: 6.4, first: 1049, last: 1047 };
    expect(playheadOf([LOGGED, step], NOTHING, FROM_1001).spanAt(10)).toMatchObject({
      first: 1001,
      last: 1049,
    });
  });

  it('is all that a hand dragged to and fro over', () => {
    const drag = (start: number, first: number, last: number): Pass => ({
      ...{ start, end: start + 0.4, first, last, source: 'counter', confidence: 0.9 },
    });
    const passes = [LOGGED, drag(8, 1060, 1090), drag(8.4, 1090, 1064), drag(9, 1064, 1080)];
    const { spanAt } = playheadOf(passes, NOTHING, FROM_1001);
    expect(spanAt(20)).toMatchObject({ first: 1060, last: 1090 });
  });
});

describe('what a log and the sound both tell', () => {
  it('is believed of the log', () => {
    const log: Pass = { ...PLAYED, first: 1002, last: 1050, source: 'log' };
    const later: Pass = { ...PLAYED, start: 9, end: 11 };
    expect(combinePasses([PLAYED, later], [log])).toEqual([log, later]);
  });
});
