import type { Span } from '../basics/span.ts';
import { CUT_SECONDS, meetingsOf } from './meetings.ts';
import { follows, isHalfHeard, middleOf } from './same-words.ts';
import type { Word } from './transcript.ts';

/** The right side begins in the middle of a sentence it knows nothing of, so its words there count less. */
const NO_CONTEXT = 0.85;
/** A second's distance from the cut costs a seam so many seconds of surely heard speech: each side knows its own side best. */
const DISTANCE_COST = 0.05;

/** What one side heard between two places where both meet. */
interface Reading {
  readonly words: readonly Word[];
  worth(word: Word): number;
}

/** What stands before a part and behind it: its words must not run into that. */
interface Neighbours {
  readonly last: Word | undefined;
  /** As either side timed it. */
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
    const next = [before[to.left], after[to.right]].filter((word) => word !== undefined);
    const around = { last: words.at(-1), next };
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
      if (last && first && !follows(last, first)) continue;
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
  { last, next }: Neighbours,
  lastHeard: Word | undefined,
): readonly Word[] {
  // The left side's, but where it runs into what the right side's reading before it put there: a word both heard.
  const [word] = left.words;
  const isBlocked = last && word && !follows(last, word) && right.words[0] && follows(last, right.words[0]);
  if (isBlocked) return right.words;
  let best = left.words;
  let most = worthOf(left, 0);
  for (const [first, second] of [
    [left, right],
    [right, left],
  ] as const) {
    for (let end = first.words.length; end >= 0; end--) {
      for (let from = second.words.length; from >= 0; from--) {
        const points = worthOf(first, 0, end) + worthOf(second, from);
        if (points <= most) continue;
        const words = [...first.words.slice(0, end), ...second.words.slice(from)];
        const [seamLast, seamFirst] = [first.words[end - 1], second.words[from]];
        if (seamLast && seamFirst && !follows(seamLast, seamFirst)) continue;
        if (seamLast === lastHeard && seamLast && seamFirst && isHalfHeard(seamLast, seamFirst)) continue;
        const [begin, close] = [words[0], words.at(-1)];
        if (last && begin && !follows(last, begin)) continue;
        if (close && next.length > 0 && !next.some((word) => follows(close, word))) continue;
        [best, most] = [words, points];
      }
    }
  }
  return best;
}

/** Seconds of a word inside the stretch, weighed by how sure it is; a scrap at the edge of what a side heard counts half. */
function worth({ start, end, confidence }: Word, { start: from, end: to }: Span, toTheEdge: number): number {
  const seconds = Math.max(0, Math.min(end, to) - Math.max(start, from));
  return seconds * confidence * (toTheEdge < CUT_SECONDS ? 0.5 : 1);
}

function worthOf({ words, worth: of }: Reading, from: number, end: number = words.length): number {
  return words.slice(from, end).reduce((sum, word) => sum + of(word), 0);
}
