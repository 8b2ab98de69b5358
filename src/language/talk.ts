import type { Language } from './language.ts';
import type { Hit } from './lexicon.ts';
import type { SaidNumber } from './numbers.ts';
import { type SpokenWord, type Token, tokensOf } from './tokens.ts';

/** A whole talk, read once: its tokens and everything the lexicons find in them. */
export interface Talk {
  readonly words: readonly SpokenWord[];
  readonly tokens: readonly Token[];
  /** By first token. */
  readonly hits: readonly Hit[];
  readonly numbers: readonly SaidNumber[];
}

/** Reads a talk with every lexicon of a language. */
export function readTalk(words: readonly SpokenWord[], language: Language): Talk {
  const tokens = tokensOf(words);
  const hits = [...language.lexicons.values()].flatMap((lexicon) => lexicon.find(tokens));
  hits.sort((a, b) => a.first - b.first || a.last - b.last);
  return { words, tokens, hits, numbers: language.numbers.all(tokens) };
}

/** A stretch of a talk's tokens, both ends included. */
export interface TokenRange {
  readonly first: number;
  readonly last: number;
}

/** The first place in a list ordered by `first` that does not lie before a token. */
function placeOf(list: readonly TokenRange[], token: number): number {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((list[middle]?.first ?? 0) < token) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The items of a list ordered by `first` that lie wholly inside a stretch. */
export function within<T extends TokenRange>(list: readonly T[], range: TokenRange): T[] {
  const found: T[] = [];
  for (let i = placeOf(list, range.first); i < list.length; i++) {
    const item = list[i];
    if (!item || item.first > range.last) break;
    if (item.last <= range.last) found.push(item);
  }
  return found;
}

/** The hits that lie wholly inside a stretch. */
export function hitsWithin(talk: Talk, range: TokenRange): Hit[] {
  return within(talk.hits, range);
}

/** The numbers that lie wholly inside a stretch. */
export function numbersWithin(talk: Talk, range: TokenRange): SaidNumber[] {
  return within(talk.numbers, range);
}

/** The tokens of a stretch of words, or null where those words hold none. */
export function rangeOfWords(talk: Talk, firstWord: number, lastWord: number): TokenRange | null {
  const first = firstTokenFrom(talk, firstWord);
  const last = firstTokenFrom(talk, lastWord + 1) - 1;
  return last < first ? null : { first, last };
}

/** The first token that belongs to a word or to one after it. */
function firstTokenFrom(talk: Talk, word: number): number {
  let low = 0;
  let high = talk.tokens.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((talk.tokens[middle]?.word ?? 0) < word) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Seconds of silence before a token; 0 inside a word and at the very start. */
export function pauseBefore(talk: Talk, token: number): number {
  const here = talk.tokens[token]?.word;
  const before = talk.tokens[token - 1]?.word;
  if (here === undefined || before === undefined || here === before) return 0;
  return Math.max(0, (talk.words[here]?.start ?? 0) - (talk.words[before]?.end ?? 0));
}
