import type { Facts } from './facts.ts';

/** How likely two stretches of talk are about the same point, and what speaks for it. */
export interface Likeness {
  /** 0 to 1. */
  readonly likely: number;
  readonly reasons: readonly string[];
  /** Whether more than the part of the body speaks for it. */
  readonly telling: boolean;
}

/**
 * Log odds, set by hand and tried on invented pairs of critiques: there is no labelled body of two talks about two versions of a
 * shot to fit them on.
 */
const ODDS = {
  start: -3,
  word: 1.2,
  samePart: 1.7,
  otherPart: -1.6,
  otherSide: -2.2,
  sameIssue: 1.5,
  otherIssue: -0.6,
  nearFrames: 1.6,
  farFrames: -0.8,
  sameCharacter: 0.5,
  otherCharacter: -3,
};
/** More words than this in common say no more. */
const MOST_WORDS = 3;
/** Words in common that by themselves name a point. */
const TELLING_WORDS = 1.3;
/** Frames no further apart are the same place; a new version moves things a little. */
const NEAR_FRAMES = 6;
/** Frames further apart are another place, though a shot may have been retimed. */
const FAR_FRAMES = 24;

/**
 * How likely two stretches are about the same point.
 *
 * @param holders in how many of the old notes a word stands: one that stands in all tells nothing
 */
export function likenessOf(old: Facts, fresh: Facts, holders: ReadonlyMap<string, number>): Likeness {
  const reasons: string[] = [];
  let odds = ODDS.start;
  const common = [...old.words].filter(([stem]) => fresh.words.has(stem));
  const own = common.reduce((sum, [stem, weight]) => sum + weight / (holders.get(stem) ?? 1), 0);
  odds += ODDS.word * Math.min(own, MOST_WORDS);
  if (own >= TELLING_WORDS) reasons.push('the same words');

  const part = meeting(old.parts, fresh.parts);
  if (part === 'same') {
    odds += ODDS.samePart;
    reasons.push('the same part');
    if (otherSide(old, fresh)) odds += ODDS.otherSide;
  } else if (part === 'other') odds += ODDS.otherPart;

  const issue = meeting(old.issues, fresh.issues);
  if (issue === 'same') {
    odds += ODDS.sameIssue;
    reasons.push('the same kind of fault');
  } else if (issue === 'other') odds += ODDS.otherIssue;

  const gap = framesBetween(old, fresh);
  if (gap !== null && gap <= NEAR_FRAMES) {
    odds += ODDS.nearFrames;
    reasons.push('the same frames');
  } else if (gap !== null && gap > FAR_FRAMES) odds += ODDS.farFrames;

  if (old.character !== null && fresh.character !== null) {
    odds += old.character === fresh.character ? ODDS.sameCharacter : ODDS.otherCharacter;
  }
  const telling = own >= TELLING_WORDS || issue === 'same' || (gap !== null && gap <= NEAR_FRAMES);
  return { likely: likelihood(odds), reasons, telling };
}

/** What log odds come to, 0 to 1. */
export function likelihood(odds: number): number {
  return 1 / (1 + Math.exp(-odds));
}

function meeting<T>(a: ReadonlySet<T>, b: ReadonlySet<T>): 'same' | 'other' | 'unknown' {
  if (a.size === 0 || b.size === 0) return 'unknown';
  return [...a].some((item) => b.has(item)) ? 'same' : 'other';
}

function otherSide(old: Facts, fresh: Facts): boolean {
  const one = (sides: Facts['sides']): boolean => sides.size > 0 && !sides.has('both');
  return one(old.sides) && one(fresh.sides) && meeting(old.sides, fresh.sides) === 'other';
}

/** Frames from one to the other; 0 where they meet, null where one is not known. */
function framesBetween({ frames: a }: Facts, { frames: b }: Facts): number | null {
  if (!a || !b) return null;
  return Math.max(0, a.first - b.last, b.first - a.last);
}
