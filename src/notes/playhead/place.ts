import type { Evidence } from '../evidence.ts';
import type { Reading } from '../reading.ts';
import type { Playhead, Stand } from './playhead.ts';
import { type LoosePointing, pointingIn } from './pointing.ts';

/** Shot frames that the playhead tells for a note, before calibration. */
export interface PlacedFrames {
  readonly first: number;
  readonly last: number;
  /** How sure, 0 to 1. */
  readonly confidence: number;
  /** Whether a word pointed at it. */
  readonly pointed: boolean;
  /** Whether no pass tells it, only frames and steps that were said. */
  readonly byWords: boolean;
}

/** A note placed without a pointing word, by where the shot stood when it was begun, is trusted by this much less. */
const UNPOINTED = 0.8;
/** Pointed-at frames no further apart than this, in seconds of the shot, are one place; beyond it the first is meant. */
const ONE_PLACE_SECONDS = 1;
/** An error of so many frames halves the trust. */
const HALF_TRUST_FRAMES = 12;
/** A sentence about what has just gone by is begun so long after it, half a second more or less (from memory). */
const REMARK_SECONDS = 1;
/** Words that point before a note is begun belong to it for so long: "Watch. There. That hand." */
const POINTED_BEFORE_SECONDS = 5;

/**
 * Where a note belongs by the playhead: the frame on screen at its pointing words ("here", "there"), each at its own time;
 * the span just played where the note is about a span ("this whole bit"); else where the shot stood when the note was
 * begun, or what had just gone by where it was playing. Null where the playhead knows nothing.
 *
 * @param loose The pointing words of statements that belong to no note.
 */
export function placeByPlayhead(
  reading: Pick<Reading, 'talk' | 'language' | 'shot'>,
  evidence: Evidence,
  playhead: Playhead,
  loose: readonly LoosePointing[] = [],
): PlacedFrames | null {
  const spoken = talkOfNote(evidence);
  if (!spoken) return null;
  const before = loose.filter(
    ({ seconds, opens }) => opens === spoken.start && opens - seconds <= POINTED_BEFORE_SECONDS,
  );
  const pointing = [...before, ...pointingIn(reading, evidence.hits, spoken.range)];
  const span = pointing.find(({ means }) => means === 'span');
  const played = span && playhead.spanAt(span.seconds);
  if (played) return { ...played, confidence: played.confidence * UNPOINTED, pointed: true, byWords: false };
  const begun = playhead.at(spoken.start, REMARK_SECONDS);
  const pointed = pointing.flatMap(({ means, seconds, strong }) => {
    const stand = means === 'points' ? playhead.at(seconds) : null;
    if (!stand) return [];
    // A word said before the note tells of it only if the shot was not taken elsewhere since.
    const elsewhere = seconds < spoken.start && stand.pace === 0 && stand.pass !== begun?.pass;
    // What is said while the shot plays on is about what went by, unless the shot was clearly stopped to point.
    const byTheWay = !strong && stand.pace === 0 && begun !== null && begun.pace !== 0;
    return elsewhere || byTheWay ? [] : [stand];
  });
  const [first] = pointed;
  if (first) {
    const near = pointed.filter(
      (one) => Math.abs(one.frame - first.frame) <= ONE_PLACE_SECONDS * reading.shot.fps,
    );
    const frames = near.map((one) => one.frame);
    return {
      first: Math.min(...frames),
      last: Math.max(...frames),
      confidence: trustIn(first),
      pointed: true,
      byWords: first.pass === null,
    };
  }
  // A frame that was said of another note tells nothing of one that neither points nor was stepped to.
  if (!begun?.pass) return null;
  const confidence = trustIn(begun) * UNPOINTED;
  return { first: begun.frame, last: begun.frame, confidence, pointed: false, byWords: false };
}

/** The frames on screen while a note was spoken, at the beginning of each of its sentences, for holding against frames that were said. */
export function standsWhileSpoken(evidence: Evidence, playhead: Playhead): Stand[] {
  const spoken = talkOfNote(evidence);
  if (!spoken) return [];
  return [...spoken.begins, spoken.end].flatMap((seconds) => playhead.at(seconds) ?? []);
}

function trustIn({ confidence, errorFrames }: Stand): number {
  return confidence * 2 ** (-errorFrames / HALF_TRUST_FRAMES);
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
    begins: statements.slice(at, end + 1).map(({ start }) => start),
    range: { first: range.first, last: ranges[end]?.last ?? range.last },
  };
}

/** Statements no further apart than this are one stretch of talk about one place. */
const NEXT_BREATH_SECONDS = 6;
