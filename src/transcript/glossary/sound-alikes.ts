import { doubleMetaphone } from 'double-metaphone';
import { distance } from 'fastest-levenshtein';
import { spreadWords } from '../spread-words.ts';
import type { ListenFor } from './listen-for.ts';

/** A word as it was heard, and whether the vocabulary had to spell it out of pieces: no word that everybody says is. */
export interface SpelledWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly confidence: number;
  readonly isSpelled: boolean;
}

/** A word, and what was heard in its place where it was mended. */
export interface MendedWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly confidence: number;
  readonly heard?: string | undefined;
}

/** Words heard at least this surely are left as they are, but for names: a recogniser spells those it cannot know quite surely. */
const SURE = 0.5;
/** Shorter words sound like too many others. */
const LEAST_LETTERS = 4;
/** So many heard words may have been one. */
const MOST_HEARD = 3;
/** Letters that may differ where the sound is the same … */
const SAME_SOUND_LETTERS = 2;
/** … where it is a name's sound, for names of some length, since nobody knows how they are written … */
const NAME_LETTERS = 4;
const LONG_NAME = 6;
/** … and where the sound is another, for words so long that one letter makes no other word. */
const LONG = 7;
const POSSESSIVE = /['’]s$/u;

interface Sound {
  readonly text: string;
  /** Of a person's own list or the shot's, and with a capital. */
  readonly isName: boolean;
  readonly letters: string;
  readonly codes: readonly string[];
  readonly syllables: number;
}

/**
 * Mends words that sound like one that is listened for. A word in several parts is put together ("deck hand" where
 * "deckhand" was listened for); a word that the vocabulary had to spell ("Quillen") gives way to a name of the shot that sounds
 * like it ("Quillon"), and one that was heard unsurely to whatever a person asked for. What was heard is kept beside it, and
 * the word stays as unsure as it was. Other words of the trade are never put in by their sound: the search has leaned to them.
 *
 * Words that everybody says are never mended: they were said far more often than what they sound like.
 */
export function soundAlikeMender({ phrases }: ListenFor): (words: readonly SpelledWord[]) => MendedWord[] {
  const known = new Set(phrases.flatMap(({ text }) => text.toLowerCase().split(/[\s-]+/)));
  const sounds = phrases
    .filter(({ source }) => source !== 'line')
    .map(({ text, source }) => ({ ...soundOf(text, isCapital(text)), source }))
    .filter(({ letters }) => letters.length >= LEAST_LETTERS);
  const wholes = new Map(
    sounds.filter(({ text }) => !/[\s-]/.test(text)).map((sound) => [sound.letters, sound]),
  );
  // Of eight words of the trade put in by their sound in 11,000 words of spoken critiques at most one had been said.
  const wanted = sounds.filter(({ source, isName }) => source === 'own' || isName);
  const findAt = (words: readonly SpelledWord[], at: number): { phrase: string; length: number } | null => {
    for (let length = MOST_HEARD; length >= 1; length--) {
      const heard = words.slice(at, at + length);
      // A mark between two words says that they are two.
      if (heard.length < length || heard.slice(0, -1).some(({ text }) => /\P{L}$/u.test(text))) continue;
      if (heard.some(({ text }) => /\p{N}/u.test(text))) continue;
      const sound = soundOf(withoutEnding(heard.map(({ text }) => text).join(' ')));
      const whole = length > 1 ? wholes.get(sound.letters) : undefined;
      if (whole) return { phrase: whole.text, length };
      if (heard.some(({ text }) => known.has(lettersOf(text)))) continue;
      if (!heard.every(({ isSpelled }) => isSpelled)) continue;
      const onlyNames = heard.some(({ confidence }) => confidence >= SURE) || isNameLike(words, at);
      const [best] = wanted
        .filter((other) => (other.isName || !onlyNames) && isAlike(sound, other))
        .sort((a, b) => distance(a.letters, sound.letters) - distance(b.letters, sound.letters));
      if (best) return { phrase: best.text, length };
    }
    return null;
  };
  return (words) => {
    const mended: MendedWord[] = [];
    for (let at = 0; at < words.length; ) {
      const found = findAt(words, at);
      const heard = words.slice(at, at + (found?.length ?? 1));
      mended.push(...(found ? written(heard, found.phrase) : heard.map(plain)));
      at += heard.length;
    }
    return mended;
  };
}

function plain({ text, start, end, confidence }: SpelledWord): MendedWord {
  return { text, start, end, confidence };
}

function isAlike(heard: Sound, listened: Sound): boolean {
  const apart = distance(heard.letters, listened.letters);
  if (apart === 0) return false;
  if (apart === 1 && listened.letters.length >= LONG) return true;
  const mayDiffer =
    listened.isName && listened.letters.length >= LONG_NAME ? NAME_LETTERS : SAME_SOUND_LETTERS;
  return (
    apart <= mayDiffer &&
    heard.syllables === listened.syllables &&
    heard.codes.some((code) => listened.codes.includes(code))
  );
}

/** The phrase in the place of what was heard, with its capital and its closing mark. */
function written(heard: readonly SpelledWord[], phrase: string): MendedWord[] {
  const [first, last] = [heard[0], heard.at(-1)];
  if (!first || !last) return [];
  const [initial = ''] = phrase;
  const text = (isCapital(first.text) ? initial.toUpperCase() : initial) + phrase.slice(initial.length);
  const closing = /[^\p{L}\p{N}]*$/u.exec(last.text)?.[0] ?? '';
  const mark = (POSSESSIVE.exec(last.text.slice(0, last.text.length - closing.length))?.[0] ?? '') + closing;
  const confidence = Math.min(...heard.map((word) => word.confidence));
  const was = heard.map((word) => word.text).join(' ');
  return spreadWords(text + mark, { start: first.start, end: last.end }).map((word) => ({
    ...word,
    confidence,
    heard: was,
  }));
}

/** A capital where no sentence begins: the recogniser took it for a name. */
function isNameLike(words: readonly SpelledWord[], at: number): boolean {
  const before = words[at - 1];
  return before !== undefined && !/[.?!]$/u.test(before.text) && isCapital(words[at]?.text ?? '');
}

function isCapital(text: string): boolean {
  return /^\p{Lu}/u.test(text);
}

/** A text without its closing mark and without the ending of what is somebody's. */
function withoutEnding(text: string): string {
  return text.replace(/[^\p{L}\p{N}]*$/u, '').replace(POSSESSIVE, '');
}

function soundOf(text: string, isName = false): Sound {
  const letters = lettersOf(text);
  const codes = [...new Set(doubleMetaphone(letters))].filter((code) => code !== '');
  return { text, isName, letters, codes, syllables: letters.match(/[aeiouy]+/g)?.length ?? 0 };
}

function lettersOf(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}
