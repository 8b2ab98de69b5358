import { describe, expect, it } from 'vitest';
import { combinePasses, type Pass } from '../../../src/basics/pass.ts';
import { loadLanguage } from '../../../src/language/language.ts';
import { readTalk } from '../../../src/language/talk.ts';
import { placeByPlayhead } from '../../../src/notes/playhead/place.ts';
import { playheadOf } from '../../../src/notes/playhead/playhead.ts';
import { findSteps } from '../../../src/notes/playhead/steps.ts';
import { betweenNeighbours } from '../../../src/notes/refiners/neighbours.ts';
import { said } from '../../language/said.ts';
import { evidenceIn, FROM_1001 } from '../read.ts';

const language = loadLanguage();

/** Two seconds of the shot from its first frame, played from the second second of the recording. */
const PLAYED: Pass = { start: 2, end: 4, first: 1001, last: 1049, source: 'sound', confidence: 1 };

describe('where the shot stood', () => {
  it('goes with the playing shot, and stands where it stopped', () => {
    const at = playheadOf([PLAYED], [], FROM_1001);
    expect(at(1)).toBeNull();
    // Half way, less the time that people need to say so: 24 frames a second is film's rate (shared fact of the trade).
    expect(at(3.3)?.frame).toBe(1025);
    expect(at(3.3)?.moving).toBe(true);
    expect(at(4.5)).toMatchObject({ frame: 1049, moving: false });
  });

  it('is less sure the longer ago the shot was heard, unless the player itself tells', () => {
    const heard = playheadOf([PLAYED], [], FROM_1001);
    expect(heard(64)?.confidence).toBeLessThan(heard(5)?.confidence ?? 0);
    const logged = playheadOf([{ ...PLAYED, source: 'log' }], [], FROM_1001);
    expect(logged(64)?.confidence).toBe(1);
  });

  it('never leaves the shot: played out it stays on the last frame', () => {
    const at = playheadOf([{ ...PLAYED, last: 1169 }], [], FROM_1001);
    expect(at(5)?.frame).toBe(1168);
  });

  it('follows steps told in words, where only the sound is known', () => {
    const talk = readTalk(said('back two', 'and see that', 'one more frame'), language);
    const steps = findSteps(talk, language);
    expect(steps.map((step) => step.frames)).toEqual([-2, 1]);
    const late = steps.map((step) => ({ ...step, seconds: step.seconds + 10 }));
    expect(playheadOf([PLAYED], late, FROM_1001)(60)?.frame).toBe(1048);
    expect(playheadOf([{ ...PLAYED, source: 'log' }], late, FROM_1001)(60)?.frame).toBe(1049);
  });
});

describe('a note that says no frame', () => {
  const stopped = playheadOf([{ ...PLAYED, start: -3, end: -1 }], [], FROM_1001);

  it('lies on the frame that was on screen at its "here"', () => {
    const { talk, evidence } = evidenceIn(language, ['the wrist just breaks right there']);
    expect(placeByPlayhead(talk, evidence, stopped, FROM_1001)).toMatchObject({ first: 1049, last: 1049 });
  });

  it('takes the span that was played where it speaks of a span', () => {
    const { talk, evidence } = evidenceIn(language, ['this whole section reads as one speed']);
    expect(placeByPlayhead(talk, evidence, stopped, FROM_1001)).toMatchObject({ first: 1001, last: 1049 });
  });

  it('without a pointing word is placed less surely', () => {
    const pointed = evidenceIn(language, ['the wrist breaks there']);
    const plain = evidenceIn(language, ['the wrist breaks badly']);
    const sure = (one: typeof plain): number =>
      placeByPlayhead(one.talk, one.evidence, stopped, FROM_1001)?.confidence ?? 0;
    expect(sure(plain)).toBeGreaterThan(0);
    expect(sure(plain)).toBeLessThan(sure(pointed));
  });

  it('has no place where nothing is known of the shot', () => {
    const { talk, evidence } = evidenceIn(language, ['the wrist breaks there']);
    expect(placeByPlayhead(talk, evidence, playheadOf([], [], FROM_1001), FROM_1001)).toBeNull();
  });
});

describe('a note between two placed ones', () => {
  const placed = (first: number, begun: number) => ({
    begun,
    frames: { first, last: first, source: 'spoken' as const, confidence: 1 },
  });

  it('lies between their frames, and says that it is a guess', () => {
    const notes = [placed(1010, 10), { begun: 20, frames: null }, placed(1022, 30)];
    expect(betweenNeighbours(notes, 1, 24)).toMatchObject({ first: 1010, last: 1022, source: 'neighbour' });
    expect(betweenNeighbours(notes, 1, 24)?.confidence).toBeLessThan(0.5);
  });

  it('has no place where the mentor jumped about', () => {
    expect(
      betweenNeighbours([placed(1100, 10), { begun: 20, frames: null }, placed(1010, 30)], 1, 24),
    ).toBeNull();
    expect(
      betweenNeighbours([placed(1001, 10), { begun: 20, frames: null }, placed(1160, 30)], 1, 24),
    ).toBeNull();
    expect(
      betweenNeighbours([placed(1010, 10), { begun: 200, frames: null }, placed(1022, 400)], 1, 24),
    ).toBeNull();
  });
});

describe('what a log and the sound both tell', () => {
  it('is believed of the log', () => {
    const log: Pass = { ...PLAYED, first: 1002, last: 1050, source: 'log' };
    const later: Pass = { ...PLAYED, start: 9, end: 11 };
    expect(combinePasses([PLAYED, later], [log])).toEqual([log, later]);
  });
});
