import { spokenWords } from './spoken-words.ts';

/** A word as it is scored, and the words of the text it comes from, both included. */
export interface ScoredWord {
  readonly text: string;
  readonly first: number;
  readonly last: number;
  /** Of the figures of one number only the first begins it and only the last ends it. */
  readonly begins: boolean;
  readonly ends: boolean;
}

const DIGITS = 'zero one two three four five six seven eight nine'.split(' ');
const TEENS = 'ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(' ');
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];
/** Two ways to write one word. */
const SAME: Readonly<Record<string, string>> = {
  ok: 'okay',
  thru: 'through',
  grey: 'gray',
  centre: 'center',
};

/**
 * The words of a text for scoring: as `spokenWords`, and numbers as their figures, so that "ten forty two", "1042", "10 42" and
 * "one thousand and forty two" are equal, and a number that is half right counts as half right.
 * @param texts the words of the text, one by one; what is given back points to them
 */
export function scoredWords(texts: readonly string[]): ScoredWord[] {
  const said = texts.flatMap((text, index) =>
    spokenWords(text.replace(/(?<=\d)'s\b/, ''))
      .flatMap((word) =>
        word.endsWith("'s") && isNumberWord(word.slice(0, -2)) ? [word.slice(0, -2)] : [word],
      )
      .map((word) => ({ text: SAME[word] ?? word, index })),
  );
  const scored: ScoredWord[] = [];
  for (let at = 0; at < said.length; ) {
    const number = numberAt(
      said.map(({ text }) => text),
      at,
    );
    const first = said[at]?.index ?? 0;
    if (!number) {
      scored.push({ text: said[at]?.text ?? '', first, last: first, begins: true, ends: true });
      at++;
      continue;
    }
    const last = said[number.next - 1]?.index ?? first;
    [...number.figures].forEach((text, i, all) => {
      scored.push({ text, first, last, begins: i === 0, ends: i === all.length - 1 });
    });
    at = number.next;
  }
  return scored;
}

function isNumberWord(word: string): boolean {
  return [DIGITS, TEENS, TENS].some((list) => word !== '' && list.includes(word));
}

/** The figures of the number at a place, and the place behind it. */
function numberAt(words: readonly string[], from: number): { figures: string; next: number } | null {
  let figures = '';
  let at = from;
  for (;;) {
    const chunk = below100(words, at) ?? oneHundred(words, at);
    if (!chunk) break;
    at = chunk.next;
    let value = chunk.value;
    const scale = words[at] === 'hundred' ? 100 : words[at] === 'thousand' ? 1000 : 1;
    if (scale > 1) {
      value *= scale;
      at++;
      const joined = below1000(words, words[at] === 'and' ? at + 1 : at, scale);
      if (joined) {
        value += joined.value;
        at = joined.next;
      }
    }
    figures += String(value);
  }
  return figures === '' ? null : { figures, next: at };
}

/** The unsaid one of "a hundred" and of "hundred", after which the hundred stands. */
function oneHundred(words: readonly string[], at: number): { value: number; next: number } | null {
  const next = words[at] === 'a' ? at + 1 : at;
  return words[next] === 'hundred' || words[next] === 'thousand' ? { value: 1, next } : null;
}

function below1000(
  words: readonly string[],
  at: number,
  scale: number,
): { value: number; next: number } | null {
  const chunk = below100(words, at);
  if (!chunk || scale === 100 || words[chunk.next] !== 'hundred') return chunk;
  const after = words[chunk.next + 1] === 'and' ? chunk.next + 2 : chunk.next + 1;
  const rest = below100(words, after);
  return { value: chunk.value * 100 + (rest?.value ?? 0), next: rest?.next ?? chunk.next + 1 };
}

function below100(words: readonly string[], at: number): { value: number; next: number } | null {
  const word = words[at] ?? '';
  if (DIGITS.includes(word)) return { value: DIGITS.indexOf(word), next: at + 1 };
  if (TEENS.includes(word)) return { value: 10 + TEENS.indexOf(word), next: at + 1 };
  const tens = word === '' ? -1 : TENS.indexOf(word);
  if (tens < 0) return null;
  const ones = DIGITS.indexOf(words[at + 1] ?? '');
  return ones > 0 ? { value: tens * 10 + ones, next: at + 2 } : { value: tens * 10, next: at + 1 };
}

/**
 * A list in which two neighbours that the other list writes as one word ("bed roll", "bedroll") are one word.
 * @param other the list it will be held against
 */
export function withCompounds(list: readonly string[], other: readonly string[]): string[] {
  const whole = new Set(other);
  const joined: string[] = [];
  for (let at = 0; at < list.length; at++) {
    const both = `${list[at]}${list[at + 1] ?? ''}`;
    const isCompound = at + 1 < list.length && whole.has(both) && !/\d/.test(both);
    joined.push(isCompound ? both : (list[at] ?? ''));
    if (isCompound) at++;
  }
  return joined;
}
