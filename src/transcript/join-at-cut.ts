import type { Span } from '../basics/span.ts';
import type { Word } from './transcript.ts';

/** The same word, heard from two sides, may be timed this differently. */
const SAME_SECONDS = 0.4;
/** Words that share more of the shorter one than this cannot both have been said by one person. */
const SAME_SHARE = 0.5;
/** A word that ends (or begins) so near to where a side stopped hearing may be a scrap of a longer one, and counts half. */
const EDGE_SECONDS = 0.12;
/** The right side begins in the middle of a sentence it knows nothing of, so its words there count less. */
const NO_CONTEXT = 0.85;
/** The last word of the left side, half heard, may be timed this far from where the right side has it. */
const HALF_HEARD_SECONDS = 0.8;
/** A seam at a word both sides heard is worth so many seconds of surely heard speech … */
const AGREEMENT_SECONDS = 0.2;
/** … and a second's distance from the cut costs so many: each side knows more of what lies on its own side. */
const DISTANCE_COST = 0.05;

/**
 * Joins the words of two stretches that both heard the sound around a cut: the left one's up to a seam, the right one's behind
 * it. Of all seams that double no word, the one is taken that leaves most of the time both heard covered by words the
 * recogniser was sure of. So a word that one side lost or took for another comes from the other side, and where one heard
 * nothing at all, the other is believed for the whole of it.
 *
 * @param before, after Words in order of time, on the recording's time.
 * @param both What both stretches heard, in seconds, with the cut inside.
 */
export function joinAtCut(
  before: readonly Word[],
  after: readonly Word[],
  both: Span,
  cut: number,
): { before: Word[]; after: Word[] } {
  const worthBefore = before.map((word) => worth(word, both, both.end - word.end));
  const worthAfter = after.map((word) => NO_CONTEXT * worth(word, both, word.start - both.start));
  let best = { left: before.length, right: after.length };
  let most = Number.NEGATIVE_INFINITY;
  for (let left = 0; left <= before.length; left++) {
    // What only one side heard is never given up.
    if ((before[left]?.end ?? both.start) < both.start) continue;
    for (let right = 0; right <= after.length; right++) {
      if ((after[right - 1]?.start ?? both.end) > both.end) break;
      const [last, first] = [before[left - 1], after[right]];
      if (last && first && !follows(last, first)) continue;
      if (left === before.length && last && first && isHalfHeard(last, first)) continue;
      const seam = ((last?.end ?? both.start) + (first?.start ?? both.end)) / 2;
      const points =
        sum(worthBefore.slice(0, left)) +
        sum(worthAfter.slice(right)) +
        agreement(last, after[right - 1]) +
        agreement(before[left], first) -
        DISTANCE_COST * Math.abs(seam - cut);
      if (points > most) [best, most] = [{ left, right }, points];
    }
  }
  return { before: before.slice(0, best.left), after: after.slice(best.right) };
}

/** Seconds of a word inside the stretch, weighed by how sure it is. */
function worth({ start, end, confidence }: Word, { start: from, end: to }: Span, toTheEdge: number): number {
  const seconds = Math.max(0, Math.min(end, to) - Math.max(start, from));
  return seconds * confidence * (toTheEdge < EDGE_SECONDS ? 0.5 : 1);
}

/** Whether the second word can stand behind the first one without being it. */
function follows(last: Word, first: Word): boolean {
  if (middleOf(first) < middleOf(last) || isSame(last, first)) return false;
  const shared = Math.min(last.end, first.end) - Math.max(last.start, first.start);
  return shared <= SAME_SHARE * Math.min(last.end - last.start, first.end - first.start);
}

function isHalfHeard(last: Word, first: Word): boolean {
  return plain(last) === plain(first) && middleOf(first) - middleOf(last) <= HALF_HEARD_SECONDS;
}

function agreement(word: Word | undefined, other: Word | undefined): number {
  return word && other && isSame(word, other) ? AGREEMENT_SECONDS : 0;
}

function isSame(word: Word, other: Word): boolean {
  const apart = Math.abs(middleOf(word) - middleOf(other));
  // Said twice running, a word is where it is: only an overlap makes it the same.
  const touch = Math.min(word.end, other.end) > Math.max(word.start, other.start);
  return apart <= SAME_SECONDS && touch && plain(word) === plain(other);
}

function middleOf({ start, end }: Word): number {
  return (start + end) / 2;
}

/** Case and punctuation depend on what a side knows of the sentence. */
function plain({ text }: Word): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
