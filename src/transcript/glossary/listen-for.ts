import type { Shot } from '../../basics/shot.ts';

/** Where a word or phrase to listen for comes from. */
export type ListenedSource = 'trade' | 'shot' | 'line' | 'own';

/** One word or phrase that recognition is pulled toward. */
export interface Listened {
  readonly text: string;
  readonly source: ListenedSource;
}

/** A number word that is heard as another word of the same sound, and where only the number can be meant. */
export interface NumberHomophone {
  readonly says: string;
  readonly heard: readonly string[];
  /** Words, with `_` for the word itself and `#` for any number: `_ more frames`. */
  readonly among: readonly string[];
  readonly unless: readonly string[];
}

/** How numbers are misheard, as plain data. */
export interface NumbersHeard {
  readonly homophones: readonly NumberHomophone[];
  /** In lower case; figures are numbers in any case. */
  readonly words: readonly string[];
}

/**
 * What a recogniser listens for, as plain data: two recordings heard with the same model and an equal value of this are
 * heard alike.
 */
export interface ListenFor {
  readonly phrases: readonly Listened[];
  /** What numbers are misheard as. */
  readonly numbers?: NumbersHeard;
}

/** Nobody said what to listen for: the likeliest words are heard. */
export const LISTEN_FOR_NOTHING: ListenFor = { phrases: [] };

/** A phrase of more words than this is never said twice alike. */
const MOST_WORDS = 6;
const SHORTEST = 3;

export interface ListenedWords {
  /** Words and phrases of the trade. */
  readonly trade: readonly string[];
  /** Any part may be unknown. */
  readonly shot?: { readonly [Key in 'characters' | 'dialogue']?: Shot[Key] | undefined } | undefined;
  /** What a person asked for. */
  readonly own?: readonly string[] | undefined;
  readonly numbers?: NumbersHeard | undefined;
}

/** Gathers what a recogniser should listen for; each phrase once, in the order of how much it is leaned to. */
export function listenFor({ trade, shot, own = [], numbers }: ListenedWords): ListenFor {
  const phrases = new Map<string, Listened>();
  const add = (source: ListenedSource) => (text: string) => {
    const plain = text.trim().replace(/\s+/g, ' ');
    const key = plain.toLowerCase();
    if (plain.length >= SHORTEST && !phrases.has(key)) phrases.set(key, { text: plain, source });
  };
  own.forEach(add('own'));
  trade.forEach(add('trade'));
  // What a character is called may be a whole description: its words are said one at a time.
  const names = (shot?.characters ?? []).flatMap(({ name, words }) => [name, ...words]);
  names.flatMap(wordsOf).forEach(add('shot'));
  (shot?.dialogue ?? []).flatMap(wordsOf).forEach(add('line'));
  return { phrases: [...phrases.values()], ...(numbers && { numbers }) };
}

/** The words of a text without what stands around them. */
function wordsOf(text: string): string[] {
  return text.match(/[\p{L}\p{N}]+(?:['’-][\p{L}\p{N}]+)*/gu) ?? [];
}

/** What is wrong with a phrase that a person asked to be listened for; null where nothing is. */
export function phraseFault(phrase: string): string | null {
  if (!/\p{L}/u.test(phrase)) return 'holds no letter';
  if (!/^[\p{L}\p{N} '’.-]+$/u.test(phrase)) return 'holds a mark that nobody says';
  if (phrase.split(' ').length > MOST_WORDS) return `is longer than ${MOST_WORDS} words`;
  return phrase.replace(/[^\p{L}\p{N}]/gu, '').length < SHORTEST
    ? `is shorter than ${SHORTEST} letters, and would be heard everywhere`
    : null;
}
