import type { Span } from '../basics/span.ts';
import { isSame, middleOf, plain } from './same-words.ts';
import type { Word } from './transcript.ts';

/** A place two hearings have in common: so many words of each lie before it. */
export interface Meeting {
  readonly left: number;
  readonly right: number;
}

/** A word that begins or ends so near to where a side stopped hearing may have been cut by it. */
export const CUT_SECONDS = 0.12;
/** A word that each side heard but once so near is the same, though their times do not touch. */
const ONCE_SECONDS = 0.4;

/**
 * Where two hearings of one stretch meet, in order: before and behind each word that both heard, and at the ends of what
 * both heard where no word is cut there.
 *
 * @param before, after In order of time.
 * @param both What both heard, in seconds.
 */
export function meetingsOf(before: readonly Word[], after: readonly Word[], both: Span): Meeting[] {
  const isOne = (word: Word, other: Word) => isSame(word, other) || isOnce(before, after, word, other);
  const nearest = (word: Word, others: readonly Word[], same: (other: Word) => boolean) =>
    others.filter(same).sort((one, other) => apart(one, word) - apart(other, word))[0];
  const meetings: Meeting[] = [];
  let reached = 0;
  for (const [left, word] of before.entries()) {
    // Of words said several times running, those that lie nearest to each other.
    const other = nearest(word, after, (one) => isOne(word, one));
    if (!other || nearest(other, before, (one) => isOne(one, other)) !== word) continue;
    const right = after.indexOf(other);
    if (right < reached) continue;
    meetings.push({ left, right }, { left: left + 1, right: right + 1 });
    reached = right + 1;
  }
  const [first, last] = [meetings[0], meetings.at(-1)];
  const beginning = beginningOf(before, after, both);
  if (beginning && beginning.left <= (first?.left ?? before.length)) meetings.unshift(beginning);
  const end = endOf(before, after, both);
  if (end && end.right >= (last?.right ?? 0)) meetings.push(end);
  return meetings;
}

function apart(word: Word, other: Word): number {
  return Math.abs(middleOf(word) - middleOf(other));
}

/** Whether each side heard the word once near there: what is said twice is heard twice by both. */
function isOnce(before: readonly Word[], after: readonly Word[], word: Word, other: Word): boolean {
  if (plain(word) !== plain(other) || apart(word, other) > ONCE_SECONDS / 2) return false;
  const near = (words: readonly Word[]) =>
    words.filter((one) => plain(one) === plain(word) && apart(one, word) <= ONCE_SECONDS);
  return near(before).length === 1 && near(after).length === 1;
}

/** The beginning of what both heard, where it cut no word. */
function beginningOf(before: readonly Word[], after: readonly Word[], { start }: Span): Meeting | null {
  const isCut = before.some((word) => word.start < start && word.end > start);
  const [first] = after;
  if (isCut || !first || first.start < start + CUT_SECONDS) return null;
  return { left: before.filter((word) => word.end <= start).length, right: 0 };
}

/** The end of what both heard, where it cut no word. */
function endOf(before: readonly Word[], after: readonly Word[], { end }: Span): Meeting | null {
  const isCut = after.some((word) => word.start < end && word.end > end);
  const last = before.at(-1);
  if (isCut || !last || last.end > end - CUT_SECONDS) return null;
  return { left: before.length, right: after.filter((word) => word.end <= end).length };
}
