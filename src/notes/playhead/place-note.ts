import type { Pass } from '../../basics/pass.ts';
import type { Shot } from '../../basics/shot.ts';
import type { Statement } from '../../statements/statement.ts';
import type { Evidence } from '../evidence.ts';
import type { Frames } from '../note.ts';
import type { Reading } from '../reading.ts';
import type { KnownFrames } from '../refiners/sketch.ts';
import { placeInShot } from './in-shot.ts';
import { placeByPlayhead, standsWhileSpoken } from './place.ts';
import { type Playhead, playheadOf, type Stand } from './playhead.ts';
import { type LoosePointing, loosePointing } from './pointing.ts';
import { findSteps } from './steps.ts';

/** What tells the frames of notes, for a whole recording. */
export interface Placing {
  /** By passes, steps and frames that were said. */
  readonly playhead: Playhead;
  /** Without the frames that were said: what those are held against. */
  readonly seen: Playhead;
  readonly loose: readonly LoosePointing[];
}

/** Gathers what tells where the shot stood: passes in the order of time, and what the talk says of the player. */
export function placingOf(
  reading: Reading,
  statements: readonly Statement[],
  passes: readonly Pass[],
): Placing {
  const { talk, language, shot } = reading;
  const steps = findSteps(talk, language);
  const heard = new Set(reading.frames.map(({ first }) => first));
  // "Go to frame sixty" is no note's frame, but the shot is there then.
  const named = reading.frameCandidates.flatMap(({ kind, frames, features, first, last }) => {
    const seconds = talk.words[talk.tokens[last]?.word ?? -1]?.end;
    const isFrame = heard.has(first) || features.includes('frame-word');
    return kind === 'single' && isFrame && seconds !== undefined ? [{ seconds, frame: frames[0] }] : [];
  });
  return {
    playhead: playheadOf(passes, { steps, named }, shot),
    seen: playheadOf(passes, { steps, named: [] }, shot),
    loose: loosePointing(reading, statements),
  };
}

/** The frames of a note and all that is to be said of them. */
export interface Placed {
  readonly frames: Frames | null;
  readonly confidence: number;
  readonly stood: number | null;
  readonly guessedFrom: string | null;
}

/**
 * The frames of one note: those that were said of it, else where the shot stood or played, else what the words around it tell.
 *
 * @param sure How sure the frames that were said are, or that none are, 0 to 1.
 */
export function placeNote(
  reading: Reading,
  evidence: Evidence,
  said: KnownFrames | null,
  sure: number,
  { playhead, seen, loose }: Placing,
): Placed {
  const { shot } = reading;
  if (said) {
    const [first, last] = said.frames;
    const stood = standsApart(said, standsWhileSpoken(evidence, seen), shot);
    return {
      frames: { first, last, source: 'spoken', confidence: sure },
      confidence: sure,
      stood,
      guessedFrom: null,
    };
  }
  const played = placeByPlayhead(reading, evidence, playhead, loose);
  const inShot = placeInShot(evidence, shot);
  // "Towards the end he droops" is not about the frame that the shot happens to stand on.
  const told = inShot && !(played?.pointed || (played && overlaps(played, inShot))) ? inShot : null;
  const found = told ?? played;
  if (!found) return { frames: null, confidence: sure, stood: null, guessedFrom: null };
  const confidence = Math.round(found.confidence * 100) / 100;
  const source = told || played?.byWords ? 'neighbour' : 'playback';
  const guessedFrom = told ? told.because : source === 'neighbour' ? BY_WORDS : null;
  return {
    frames: { first: found.first, last: found.last, source, confidence },
    confidence,
    stood: null,
    guessedFrom,
  };
}

const BY_WORDS = 'from the frame that was said last';

function overlaps(a: { first: number; last: number }, b: { first: number; last: number }): boolean {
  return a.first <= b.last && b.first <= a.last;
}

/** A playhead further than this from the frames that were said, in seconds of the shot, contradicts them. */
const APART_SECONDS = 0.75;
/** A playhead less sure than this contradicts nothing. The shot's sound is that sure only just after it stopped. */
const SURE_STAND = 0.95;

/** The frame on screen where it contradicts frames that were said all the while the note was spoken; else null. */
function standsApart(
  { frames: [first, last] }: KnownFrames,
  stands: readonly Stand[],
  shot: Shot,
): number | null {
  const [begun] = stands;
  if (!begun) return null;
  const apart = stands.every(({ frame, errorFrames, pace, confidence }) => {
    const away = Math.max(first - frame, frame - last) - errorFrames;
    return pace === 0 && confidence >= SURE_STAND && away > APART_SECONDS * shot.fps;
  });
  return apart ? begun.frame : null;
}
