import { describe, expect, it } from 'vitest';
import type { Pass } from '../../../src/basics/pass.ts';
import { shotSchema } from '../../../src/basics/shot.ts';
import { loadLanguage } from '../../../src/language/language.ts';
import { placeInShot } from '../../../src/notes/playhead/in-shot.ts';
import { placeByPlayhead } from '../../../src/notes/playhead/place.ts';
import { playheadOf } from '../../../src/notes/playhead/playhead.ts';
import { evidenceIn, FROM_1, FROM_1001 } from '../read.ts';

const language = loadLanguage();
const NOTHING = { steps: [], named: [] };

/** Talk begins half a second into the recording. */
const place = (passes: readonly Pass[], ...breaths: string[]) => {
  const { talk, evidence } = evidenceIn(language, breaths);
  return placeByPlayhead(
    { talk, language, shot: FROM_1001 },
    evidence,
    playheadOf(passes, NOTHING, FROM_1001),
  );
};

const STOPPED: Pass = { start: -3, end: -1, first: 1001, last: 1049, source: 'sound', confidence: 1 };
const PLAYING: Pass = { start: -2.5, end: 5, first: 1001, last: 1181, source: 'log', confidence: 1 };

describe('a note that says no frame', () => {
  it('lies on the frame that was on screen at its "here"', () => {
    expect(place([STOPPED], 'the wrist just breaks right there')).toMatchObject({ first: 1049, last: 1049 });
  });

  it('lies on the frame at the moment of its "there" while the shot plays on', () => {
    // "there" is the sixth word: 0.5 s and five words of 0.36 s, less 0.3 s in which people react, is 2 s; 4.5 s of playing.
    const placed = place([PLAYING], 'the wrist just breaks right there');
    expect(placed).toMatchObject({ first: 1001 + 4.5 * 24, pointed: true });
  });

  it('lies where no "up there" of the picture moves it', () => {
    const rest: Pass = { ...PLAYING, start: 5, end: 60, first: 1100, last: 1100 };
    const placed = place([{ ...PLAYING, end: 1.4, last: 1094.6 }, rest], 'it flies', 'let it hang up there');
    expect(placed).toMatchObject({ first: 1049, pointed: false });
  });

  it('takes the span that was played where it speaks of a span', () => {
    const placed = place([STOPPED], 'this whole section reads as one speed');
    expect(placed).toMatchObject({ first: 1001, last: 1049 });
  });

  it('lies about a second before its first word where it is said while the shot plays', () => {
    // 2 s of playing by then.
    expect(place([PLAYING], 'that knee popped')).toMatchObject({ first: 1049, last: 1049, pointed: false });
  });

  it('without a pointing word is placed less surely', () => {
    const sure = (text: string): number => place([STOPPED], text)?.confidence ?? 0;
    expect(sure('the wrist breaks badly')).toBeGreaterThan(0);
    expect(sure('the wrist breaks badly')).toBeLessThan(sure('the wrist breaks there'));
  });

  it('has no place where only words tell that the shot was taken elsewhere, unless it points', () => {
    const { talk, evidence } = evidenceIn(language, ['the wrist breaks badly']);
    const told = { steps: [], named: [{ seconds: 0.2, frame: 1100 }] };
    const reading = { talk, language, shot: FROM_1001 };
    expect(placeByPlayhead(reading, evidence, playheadOf([STOPPED], told, FROM_1001))).toBeNull();
    const pointed = evidenceIn(language, ['the wrist breaks right there']);
    const head = playheadOf([STOPPED], told, FROM_1001);
    expect(placeByPlayhead({ ...reading, talk: pointed.talk }, pointed.evidence, head)).toMatchObject({
      ...{ first: 1100, byWords: true },
    });
  });

  it('has no place where nothing is known of the shot', () => {
    expect(place([], 'the wrist breaks there')).toBeNull();
  });
});

describe('a place in the shot as a whole', () => {
  const inShot = (text: string, shot = FROM_1) => {
    const found = placeInShot(evidenceIn(language, [text]).evidence, shot);
    return found && [found.first, found.last];
  };

  it.each([
    ['on the very last frame the hand is gone', [168, 168]],
    ['at the end he goes dead', [145, 168]],
    ['right at the start her heel is off the ground', [1, 24]],
    ['halfway through the shot the hat swaps sides', [73, 97]],
  ])('is read: %s', (text, frames) => {
    expect(inShot(text)).toEqual(frames);
  });

  it.each([
    'at the end of the turn the head is late',
    'halfway down the stairs he slips',
    'the first frame she is down, there is a gap',
    'round off the end of the tail',
  ])('is none in: %s', (text) => {
    expect(inShot(text)).toBeNull();
  });

  it('has no end where nobody said how long the shot is', () => {
    expect(inShot('at the end he goes dead', shotSchema.parse({}))).toBeNull();
  });
});
