import type { Span } from '../basics/span.ts';
import { CUT_SECONDS, meetingsOf } from './meetings.ts';
import { follows, isHalfHeard, isSame, middleOf, plain, spelling } from './same-words.ts';
import type { Word } from './transcript.ts';

/** The right side begins in the middle of a sentence it knows nothing of, so its words there count less. */
const NO_CONTEXT = 0.85;
/** A second's distance from the cut costs a seam so many seconds of surely heard speech: each side knows its own side best. */
const DISTANCE_COST = 0.05;

/** A part made of both readings has to be worth so many seconds more than either: words get in twice at a seam, half heard. */
const SEAM_COST = 0.1;

/** What one side heard between two places where both meet. */
interface Reading {
  readonly words: readonly Word[];
  worth(word: Word): number;
}

/** What stands before a part and behind it: its words must not run into that. */
interface Neighbours {
  readonly last: Word | undefined;
  /** The word both heard before the part, as each timed it. */
  readonly lastHeard: readonly Word[];
  /** The word both heard behind it, as each timed it. */
  readonly next: readonly Word[];
}

/**
 * Joins the words of two stretches that both heard the sound around a cut. They are parted where they meet (`meetingsOf`), and
 * of each part the reading stands that leaves most of its time covered by words the recogniser was sure of: the left side's,
 * the right side's, or the left's up to a seam and the right's behind it (between two meetings the other way round as well). So
 * a word that one side lost or took for another comes from the other side, and takes along no other one.
 *
 * @param before, after Words in order of time, on the recording's time.
 * @param both What both stretches heard, in seconds, with the cut inside.
 * @returns All words once; those before the cut, and those behind it.
 */
export function joinAtCut(
  before: readonly Word[],
  after: readonly Word[],
  both: Span,
  cut: number,
): { before: Word[]; after: Word[] } {
  const worthBefore = (word: Word) => worth(word, both, both.end - word.end);
  const worthAfter = (word: Word) => NO_CONTEXT * worth(word, both, word.start - both.start);
  const meetings = meetingsOf(before, after, both);
  const words: Word[] = [];
  const ends = [...meetings, { left: before.length, right: after.length }];
  ends.forEach((to, index) => {
    const from = meetings[index - 1] ?? { left: 0, right: 0 };
    const left = { words: before.slice(from.left, to.left), worth: worthBefore };
    const right = { words: after.slice(from.right, to.right), worth: worthAfter };
    const around = {
      last: words.at(-1),
      lastHeard: known(before[from.left - 1], after[from.right - 1]),
      next: known(before[to.left], after[to.right]),
    };
    const isOuter = index === 0 || index === meetings.length;
    const halfHeard = before.at(-1);
    words.push(
      ...(isOuter
        ? joinAtSeam(left, right, around, both, cut)
        : betterReading(left, right, around, halfHeard)),
    );
  });
  const split = words.findIndex((word) => middleOf(word) >= cut);
  const at = split < 0 ? words.length : split;
  return { before: words.slice(0, at), after: words.slice(at) };
}

/** The left side's words up to a seam and the right side's behind it: what only one of them heard is never given up. */
function joinAtSeam(left: Reading, right: Reading, around: Neighbours, both: Span, cut: number): Word[] {
  const begin = around.last?.end ?? both.start;
  const close = around.next[0]?.start ?? both.end;
  let best: Word[] = [];
  let most = Number.NEGATIVE_INFINITY;
  for (let end = 0; end <= left.words.length; end++) {
    if ((left.words[end]?.end ?? both.start) < both.start) continue;
    for (let from = 0; from <= right.words.length; from++) {
      if ((right.words[from - 1]?.start ?? both.end) > both.end) break;
      const [last, first] = [left.words[end - 1], right.words[from]];
      if (!canFollow(left.words.slice(0, end), right.words.slice(from))) continue;
      const begins = end > 0 ? left.words[0] : first;
      if (begins && around.lastHeard.some((word) => isSame(word, begins))) continue;
      if (end === left.words.length && last && first && isHalfHeard(last, first)) continue;
      const seam = ((last?.end ?? begin) + (first?.start ?? close)) / 2;
      const points = worthOf(left, 0, end) + worthOf(right, from) - DISTANCE_COST * Math.abs(seam - cut);
      if (points > most) [best, most] = [[...left.words.slice(0, end), ...right.words.slice(from)], points];
    }
  }
  return best;
}

/** What is worth most of two readings that begin and end at the same places: either, or a part of each. */
function betterReading(
  left: Reading,
  right: Reading,
  around: Neighbours,
  halfHeard: Word | undefined,
): readonly Word[] {
  const [one, other] = [left.words, right.words];
  if (one[0] && other[0] && one.length === 1 && other.length === 1 && plain(one[0]) === plain(other[0])) {
    // As the left side heard it, but where that runs into what was taken from the right side before it, and where the right
    // side is surer that it is spelled otherwise ("its", "it's").
    const isElse = spelling(one[0]) !== spelling(other[0]) && other[0].confidence > one[0].confidence;
    return isElse || (around.last && !follows(around.last, one[0])) ? other : one;
  }
  let best = one;
  let most = Number.NEGATIVE_INFINITY;
  for (const [first, second] of [
    [left, right],
    [right, left],
  ] as const) {
    for (let end = first.words.length; end >= 0; end--) {
      for (let from = second.words.length; from >= 0; from--) {
        const isMixed = end > 0 && from < second.words.length;
        const points = worthOf(first, 0, end) + worthOf(second, from) - (isMixed ? SEAM_COST : 0);
        if (points <= most) continue;
        const [last, next] = [first.words[end - 1], second.words[from]];
        if (last && next && (!follows(last, next) || (last === halfHeard && isHalfHeard(last, next))))
          continue;
        const words = [...first.words.slice(0, end), ...second.words.slice(from)];
        if (fits(words, around)) [best, most] = [words, points];
      }
    }
  }
  return best;
}

/** Whether the words on one side of a seam can all stand before those on the other. */
function canFollow(first: readonly Word[], second: readonly Word[]): boolean {
  const [last, next] = [first.at(-1), second[0]];
  if (!last || !next) return true;
  return first.every((word) => follows(word, next)) && second.every((word) => follows(last, word));
}

/** Whether words can stand where they are put: none of them is the one before or behind it heard once more. */
function fits(words: readonly Word[], { last, lastHeard, next }: Neighbours): boolean {
  const [begin, close] = [words[0], words.at(-1)];
  if (!begin || !close) return true;
  if (last && !follows(last, begin)) return false;
  if (lastHeard.some((word) => isSame(word, begin)) || next.some((word) => isSame(close, word))) return false;
  return next.length === 0 || next.some((word) => follows(close, word));
}

function known(...words: (Word | undefined)[]): Word[] {
  return words.filter((word) => word !== undefined);
}

/** Seconds of a word inside the stretch, weighed by how sure it is; a scrap at the edge of what a side heard counts half. */
function worth({ start, end, confidence }: Word, { start: from, end: to }: Span, toTheEdge: number): number {
  const seconds = Math.max(0, Math.min(end, to) - Math.max(start, from));
  return seconds * confidence * (toTheEdge < CUT_SECONDS ? 0.5 : 1);
}

function worthOf({ words, worth: of }: Reading, from: number, end: number = words.length): number {
  return words.slice(from, end).reduce((sum, word) => sum + of(word), 0);
}
