import type { WordRows } from './word-times.ts';

/** A word put together from a recogniser's tokens. */
export interface PieceWord extends WordRows {
  /** Its tokens, punctuation included, as places in the list given. */
  readonly tokens: readonly number[];
}

/** The mark with which a SentencePiece token says that a word begins; byte-level vocabularies have another. */
const WORD_START = '▁';
const PUNCTUATION = /^[▁Ġ]?[.,!?;:"“”…-]+$/;

/**
 * Groups tokens into words. A token of punctuation alone belongs to the word before it but not to its time:
 * the recogniser reads it out of the pause.
 *
 * @param pieces The tokens as written in the vocabulary, markers of start and end left out.
 * @param wordStart The mark in front of a piece that begins a word.
 */
export function wordsOfPieces(pieces: readonly string[], wordStart: string = WORD_START): PieceWord[] {
  const words: { first: number; last: number; tokens: number[] }[] = [];
  pieces.forEach((piece, index) => {
    const word = words.at(-1);
    const silent = PUNCTUATION.test(piece);
    if (word && (silent || !piece.startsWith(wordStart))) {
      word.tokens.push(index);
      if (!silent) word.last = index;
    } else {
      words.push({ first: index, last: index, tokens: [index] });
    }
  });
  return words;
}

/**
 * How sure a word is, 0 to 1: the geometric mean of its tokens' probabilities, pulled down halfway to the least of them,
 * since one doubtful syllable makes the word doubtful.
 */
export function wordConfidence(probabilities: readonly number[]): number {
  if (probabilities.length === 0) return 0;
  const logs = probabilities.map((probability) => Math.log(Math.max(probability, 1e-9)));
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  return Math.exp((mean + Math.min(...logs)) / 2);
}
