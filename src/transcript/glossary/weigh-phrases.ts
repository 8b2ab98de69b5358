import type { Listened, ListenFor } from './listen-for.ts';
import { LEAST_LIKELY, LEAST_LIKELY_OWN, type WeighedPhrase } from './phrase-trie.ts';

/** How a model writes text in tokens. */
export interface Vocabulary {
  /** Each token as it is written; a mark in front says that a word begins. */
  readonly pieces: readonly string[];
  /** The tokens of a text that begins with a word. */
  encode(text: string): number[];
}

/** Whether a token begins a word, and whether it lets the word before it end. */
export interface TokenKinds {
  beginsWord(token: number): boolean;
  endsWord(token: number): boolean;
}

/** Natural logarithms; chosen on spoken critiques (tests/bench/glossary.ts). */
const RARE_WORD = 4;
const COMMON_WORD = 1.5;
const PHRASE = 4;
/** What is asked for by hand is meant more, what is in the shot's lines is said less often than it is played. */
const SOURCE: Readonly<Record<Listened['source'], number>> = { own: 1.6, trade: 1, shot: 1, line: 0.7 };

/**
 * Pieces of these vocabularies are numbered by how early they were merged, so that common words have low numbers. Words
 * below the first are everybody's; above the second they are rare (Llama's vocabulary of 32,000).
 */
const EVERYBODYS = 2500;
const RARE = 30_000;
/** Words of a shot's lines that are commoner than this are left alone. */
const LEAST_RARITY_OF_LINES = 0.3;
const WORD_START = /^[▁Ġ]/u;
const GOES_ON = /^[\p{L}\p{N}'’]/u;

/** What a vocabulary's pieces say of where words begin and end. */
export function tokenKinds(pieces: readonly string[]): TokenKinds {
  const begins = pieces.map((piece) => WORD_START.test(piece));
  const goesOn = pieces.map((piece) => GOES_ON.test(piece) && !WORD_START.test(piece));
  return { beginsWord: (token) => begins[token] === true, endsWord: (token) => goesOn[token] !== true };
}

/**
 * Writes what is listened for in tokens and weighs it: rare words more, common ones less, everybody's not at all, since
 * those are heard anyway and would be heard too often. Each is written as inside a sentence and as at the start of one.
 */
export function weighPhrases({ phrases }: ListenFor, vocabulary: Vocabulary): WeighedPhrase[] {
  return phrases.flatMap(({ text, source }) => {
    const rarity = rarityOf(text, vocabulary);
    if (rarity === 0 || (source === 'line' && rarity < LEAST_RARITY_OF_LINES)) return [];
    const isPhrase = /[\s-]/.test(text);
    const weight = SOURCE[source] * (isPhrase ? PHRASE : COMMON_WORD + (RARE_WORD - COMMON_WORD) * rarity);
    const least = source === 'own' ? LEAST_LIKELY_OWN : LEAST_LIKELY;
    return writings(text).map((writing) => ({ tokens: vocabulary.encode(writing), weight, least }));
  });
}

/** 0 for a word that everybody says, 1 for a rare one and for phrases. */
function rarityOf(text: string, { encode }: Vocabulary): number {
  const [first, ...more] = encode(text);
  if (first === undefined) return 0;
  if (more.length > 0) return 1;
  const rarity = (Math.log(first) - Math.log(EVERYBODYS)) / (Math.log(RARE) - Math.log(EVERYBODYS));
  return Math.min(1, Math.max(0, rarity));
}

function writings(text: string): string[] {
  const [first = ''] = text;
  const rest = text.slice(first.length);
  return [...new Set([text, text.toLowerCase(), first.toUpperCase() + rest])];
}
