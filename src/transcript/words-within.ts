import type { Span } from '../basics/span.ts';

/** Indices of words, both included. */
export interface WordRange {
  readonly first: number;
  readonly last: number;
}

/** A word and a span may each have been rounded to the millisecond. */
const ROUNDING_SECONDS = 0.002;

/**
 * The words that are spoken inside a span, told by their middles; null where there are none.
 *
 * @param words In the order of time.
 */
export function wordsWithin(words: readonly Span[], span: Span): WordRange | null {
  const middle = (word: Span): number => (word.start + word.end) / 2;
  let low = 0;
  let high = words.length;
  while (low < high) {
    const at = (low + high) >> 1;
    const word = words[at];
    if (word && middle(word) < span.start - ROUNDING_SECONDS) low = at + 1;
    else high = at;
  }
  let last = low - 1;
  for (
    let word = words[last + 1];
    word && middle(word) <= span.end + ROUNDING_SECONDS;
    word = words[last + 1]
  )
    last++;
  return last < low ? null : { first: low, last };
}

/** The words of a range as they are read: one space between. */
export function textOf(words: readonly { readonly text: string }[], { first, last }: WordRange): string {
  return words
    .slice(first, last + 1)
    .map((word) => word.text.trim())
    .join(' ');
}
