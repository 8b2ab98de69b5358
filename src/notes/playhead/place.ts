import type { Pass } from '../../basics/pass.ts';
import type { Shot } from '../../basics/shot.ts';
import type { Talk } from '../../language/talk.ts';
import type { Evidence } from '../evidence.ts';
import { onScreen, type Playhead, type Stand } from './playhead.ts';

/** Shot frames that the playhead tells for a note, before calibration. */
export interface PlacedFrames {
  readonly first: number;
  readonly last: number;
  /** How sure, 0 to 1. */
  readonly confidence: number;
}

/** A note placed without a pointing word, by where the shot stood when it was begun, is trusted by this much less. */
const UNPOINTED = 0.8;
/** Pointed-at frames no further apart than this, in seconds of the shot, are one place; beyond it the first is meant. */
const ONE_PLACE_SECONDS = 1;
/** An error of so many frames halves the trust. */
const HALF_TRUST_FRAMES = 12;

/**
 * Where a note belongs by the playhead: the frame on screen at its pointing words ("here", "there"), each at its own time;
 * the span just played where the note is about a span ("this whole bit"); else where the shot stood when the note was
 * begun, or what was played while it was spoken. Null where the playhead knows nothing.
 */
export function placeByPlayhead(
  talk: Talk,
  evidence: Evidence,
  playhead: Playhead,
  shot: Shot,
): PlacedFrames | null {
  const spoken = talkOfNote(evidence);
  if (!spoken) return null;
  const begun = playhead(spoken.start);
  const spans = evidence.hits.some((hit) => hit.lexicon === 'pointing' && hit.means === 'span');
  if (spans && begun) return spanOf(begun.pass, shot, begun.confidence);
  const pointed = pointingTimes(talk, evidence, spoken.range).flatMap((seconds) => playhead(seconds) ?? []);
  const [first] = pointed;
  if (first) {
    const near = pointed.filter((one) => Math.abs(one.frame - first.frame) <= ONE_PLACE_SECONDS * shot.fps);
    const frames = near.map((one) => one.frame);
    return { first: Math.min(...frames), last: Math.max(...frames), confidence: trustIn(first) };
  }
  if (!begun) return null;
  const ended = begun.moving ? playhead(spoken.end) : null;
  const last = ended && ended.pass === begun.pass && ended.frame >= begun.frame ? ended.frame : begun.frame;
  return { first: begun.frame, last, confidence: trustIn(begun) * UNPOINTED };
}

/** The frame on screen when a note was begun, for holding against frames that were said. */
export function standWhenBegun(evidence: Evidence, playhead: Playhead): Stand | null {
  const spoken = talkOfNote(evidence);
  return spoken ? playhead(spoken.start) : null;
}

function trustIn({ confidence, errorFrames }: Stand): number {
  return confidence * 2 ** (-errorFrames / HALF_TRUST_FRAMES);
}

function spanOf(pass: Pass, shot: Shot, confidence: number): PlacedFrames {
  const ends = [pass.first, pass.last].map((frame) => onScreen(frame, shot));
  return { first: Math.min(...ends), last: Math.max(...ends), confidence: confidence * UNPOINTED };
}

/** The first run of statements that say the note itself: reasons and later mentions are often spoken over something else. */
function talkOfNote({ statements, ranges }: Evidence) {
  const at = statements.findIndex((one) => one.role === 'fix' || one.role === 'keep');
  const [statement, range] = [statements[at], ranges[at]];
  if (!statement || !range) return null;
  let end = at;
  while (
    statements[end + 1] &&
    (statements[end + 1]?.start ?? 0) - (statements[end]?.end ?? 0) < NEXT_BREATH_SECONDS
  )
    end += 1;
  return {
    start: statement.start,
    end: statements[end]?.end ?? statement.end,
    range: { first: range.first, last: ranges[end]?.last ?? range.last },
  };
}

/** Statements no further apart than this are one stretch of talk about one place. */
const NEXT_BREATH_SECONDS = 6;

/** When the pointing words were said. */
function pointingTimes(talk: Talk, { hits }: Evidence, within: { first: number; last: number }): number[] {
  return hits
    .filter((hit) => hit.lexicon === 'pointing' && hit.means === 'points')
    .filter((hit) => hit.first >= within.first && hit.last <= within.last)
    .flatMap((hit) => talk.words[talk.tokens[hit.first]?.word ?? -1]?.start ?? []);
}
