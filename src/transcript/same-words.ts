import type { Word } from './transcript.ts';

/** The same word, heard from two sides, may be timed this differently. */
const SAME_SECONDS = 0.4;
/** Words that share more of the shorter one than this cannot both have been said by one person. */
const SAME_SHARE = 0.5;
/** The last word of the left side, half heard, may be timed this far from where the right side has it. */
const HALF_HEARD_SECONDS = 0.8;

/** Whether two sides heard one and the same word. */
export function isSame(word: Word, other: Word): boolean {
  const apart = Math.abs(middleOf(word) - middleOf(other));
  // Said twice running, a word is where it is: only an overlap makes it the same.
  const touch = Math.min(word.end, other.end) > Math.max(word.start, other.start);
  return apart <= SAME_SECONDS && touch && plain(word) === plain(other);
}

/** Whether the second word can stand behind the first one without being it. */
export function follows(last: Word, first: Word): boolean {
  if (middleOf(first) < middleOf(last) || isSame(last, first)) return false;
  const shared = Math.min(last.end, first.end) - Math.max(last.start, first.start);
  return shared <= SAME_SHARE * Math.min(last.end - last.start, first.end - first.start);
}

/** Whether a side's very last word is the one the other side heard whole. */
export function isHalfHeard(last: Word, first: Word): boolean {
  return plain(last) === plain(first) && middleOf(first) - middleOf(last) <= HALF_HEARD_SECONDS;
}

export function middleOf({ start, end }: Word): number {
  return (start + end) / 2;
}

/** Case and punctuation depend on what a side knows of the sentence. */
export function plain({ text }: Word): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}

/** As `plain`, but for the marks inside a word. */
export function spelling({ text }: Word): string {
  return text.toLowerCase().replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '');
}
