import type { AmountUnit } from '../../basics/terms.ts';
import type { Language } from '../../language/language.ts';
import type { SaidNumber } from '../../language/numbers.ts';
import type { Talk } from '../../language/talk.ts';
import { type FrameWords, frameWordsOf } from '../frame-words.ts';
import { brokenQuantityAt, completed } from './broken-quantities.ts';
import { type Quantity, unitOf } from './quantity.ts';

export type { Quantity } from './quantity.ts';

/** Words that may stand between the number and its unit. */
const REACH = 3;
/** A bare number above this is no number of frames to add. */
const LARGEST_BARE = 24;
/** How far after a quantity a second number may stand that widens it, in tokens. */
const WIDENING_REACH = 5;

/** "one twenty" is a number, "one three" is none. */
const TENS = 10;

interface Size {
  readonly min: number;
  readonly max: number;
  readonly next: number;
}

/** Every quantity in a talk, in order; none overlaps another. */
export function findQuantities(talk: Talk, language: Language): Quantity[] {
  const words = frameWordsOf(language);
  const found: Quantity[] = [];
  for (let i = 0; i < talk.tokens.length; i++) {
    if (isPronoun(talk, i, words, language)) continue;
    const plain = brokenQuantityAt(talk, i, words, language) ?? quantityAt(talk, i, words, language);
    const quantity = plain && completed(talk, plain, words);
    if (quantity) found.push(quantity);
    // The tail of a larger number is no number of its own: "ten forty-two" does not say two.
    i = quantity?.last ?? language.numbers.at(talk.tokens, i)?.last ?? i;
  }
  return found;
}

/** "the right one three frames back": the one is a foot, and the frames are three. "One, two frames" are one or two. */
function isPronoun(talk: Talk, at: number, words: FrameWords, language: Language): boolean {
  if (!words.pronoun.has(talk.tokens[at]?.form ?? '') || talk.tokens[at]?.stop !== '') return false;
  const number = language.numbers.at(talk.tokens, at);
  const [, second, ...more] = number?.parts ?? [];
  const counts = unitOf(talk.tokens[(number?.last ?? at) + 1]?.form ?? '', words) !== undefined;
  return counts && second !== undefined && second > 2 && second < TENS && more.length === 0;
}

function quantityAt(talk: Talk, from: number, words: FrameWords, language: Language): Quantity | null {
  const { tokens } = talk;
  const part = partAt(talk, from, words);
  if (part) return part;
  const size = sizeAt(talk, from, words, language);
  if (!size) return null;
  const { min, max, next } = size;
  if (tokens[next - 1]?.form.endsWith('%'))
    return { first: from, last: next - 1, min, max, unit: 'percent', unitSaid: true };
  for (let at = next; at <= next + REACH; at++) {
    const token = tokens[at];
    if (!token || closes(talk, at - 1)) break;
    const unit = unitOf(token.form, words);
    // "121 to frame 133" says two places and no length.
    if (
      unit &&
      tokens[at - 1]?.form !== undefined &&
      words.range.has(tokens[at - 1]?.form ?? '') &&
      language.numbers.at(tokens, at + 1)
    )
      break;
    if (unit) {
      const wider = widened(talk, at + 1, max, unit, words, language);
      return { first: from, last: wider?.last ?? at, min, max: wider?.max ?? max, unit, unitSaid: true };
    }
    const inTwo = words.percentInTwo.find(([per]) => per === token.form);
    if (inTwo && tokens[at + 1]?.form === inTwo[1])
      return { first: from, last: at + 1, min, max, unit: 'percent', unitSaid: true };
    if (!words.between.has(token.form)) break;
  }
  const bare = language.numbers.at(tokens, from) ?? words.bare.has(tokens[next - 1]?.form ?? '');
  if (!bare || !Number.isInteger(min) || min < 1 || max > LARGEST_BARE) return null;
  const wider = max > min ? null : widened(talk, next, max, 'frames', words, language);
  return {
    first: from,
    last: wider?.last ?? next - 1,
    min,
    max: wider?.max ?? max,
    unit: 'frames',
    unitSaid: false,
  };
}

/** Whether a sentence ends with a token. */
function closes(talk: Talk, token: number): boolean {
  const stop = talk.tokens[token]?.stop;
  return stop === '.' || stop === '?';
}

/** A part of the whole: "by half", "a third of it". */
function partAt(talk: Talk, from: number, words: FrameWords): Quantity | null {
  const form = talk.tokens[from]?.form ?? '';
  const part = Object.hasOwn(words.parts, form) ? words.parts[form] : undefined;
  if (
    part === undefined ||
    [1, 2].some((k) => {
      const after = talk.tokens[from + k]?.form ?? '';
      return unitOf(after, words) || words.multiples.has(after);
    })
  )
    return null;
  return { first: from, last: from, min: part, max: part, unit: 'percent', unitSaid: false };
}

/** "a frame or two", "two frames ahead, maybe three", "one frame, better two frames", "four frames five": what widens it. */
function widened(
  talk: Talk,
  from: number,
  least: number,
  unit: AmountUnit,
  words: FrameWords,
  language: Language,
): { max: number; last: number } | null {
  for (let at = from; at <= from + WIDENING_REACH; at++) {
    if (closes(talk, at - 1) && !conditionAt(talk, at, words, language)) return null;
    const number = language.numbers.at(talk.tokens, at);
    if (!number) continue;
    const onCondition = words.condition.has(talk.tokens[number.last + 1]?.form ?? '');
    const opened =
      at === from ||
      onCondition ||
      words.alternatives.has(talk.tokens[at - 1]?.form ?? '') ||
      talk.tokens[at - 1]?.stop === ',';
    const own = unitOf(talk.tokens[number.last + 1]?.form ?? '', words);
    return opened && (!own || own === unit) && number.value > least && number.value <= least * 2 + 1
      ? { max: number.value, last: own ? number.last + 1 : number.last }
      : null;
  }
  return null;
}

/** "Four, if you can": a number that only widens the one in the sentence before. */
function conditionAt(talk: Talk, at: number, words: FrameWords, language: Language): boolean {
  const number = language.numbers.at(talk.tokens, at);
  return number !== null && words.condition.has(talk.tokens[number.last + 1]?.form ?? '');
}

/** One number or a span of two ("one or two", "three to four", "a couple", "a few"), and the token after it. */
function sizeAt(talk: Talk, from: number, words: FrameWords, language: Language): Size | null {
  const { tokens } = talk;
  const form = tokens[from]?.form ?? '';
  const number = language.numbers.at(tokens, from);
  const known = Object.hasOwn(words.quantities, form) ? words.quantities[form] : undefined;
  if (!number && !known) return null;
  const pair = number && pairOf(talk, number, words, language);
  if (pair) return pair;
  const nextForm = tokens[from + 1]?.form ?? '';
  // "a couple", "a few", "a half": the article says nothing of its own.
  if (known && words.between.has(form) && Object.hasOwn(words.quantities, nextForm)) {
    return sizeAt(talk, from + 1, words, language);
  }
  // "four four frames" is said twice, not 404.
  const again = number && number.parts.length === 2 && number.parts[0] === number.parts[1];
  const value = (again ? number.parts[0] : number?.value) ?? 0;
  const one: Size = number
    ? { min: value, max: value, next: number.last + 1 }
    : { min: known?.[0] ?? 0, max: known?.[1] ?? 0, next: from + 1 };
  const halfway = fraction(talk, one.next, words);
  const whole = halfway
    ? { min: one.min + halfway.value, max: one.max + halfway.value, next: halfway.next }
    : one;
  // "ten, twelve frames" as well as "ten or twelve".
  const listed = tokens[whole.next - 1]?.stop === ',';
  let at = whole.next;
  const joins = (form: string): boolean =>
    words.alternatives.has(form) ||
    (words.needs[form] !== undefined && words.needs[form] === tokens[from - 1]?.form);
  while (at < whole.next + 2 && joins(tokens[at]?.form ?? '')) at += 1;
  if (at === whole.next && !listed) return whole;
  const other = language.numbers.at(tokens, at);
  if (!other || other.value <= whole.max || other.value > whole.max * 2 + 1 || closes(talk, at - 1))
    return whole;
  return { min: whole.min, max: other.value, next: other.last + 1 };
}

/** "two three frames", "2-3 frames": two numbers with nothing between them are the ends of a span where a unit follows. */
function pairOf(talk: Talk, number: SaidNumber, words: FrameWords, language: Language): Size | null {
  const { tokens } = talk;
  const ends = number.last + 1;
  const other =
    number.parts.length === 1 && tokens[number.last]?.word === tokens[ends]?.word
      ? language.numbers.at(tokens, ends)
      : null;
  const [min, max, ...more] = [...number.parts, ...(other?.parts ?? [])];
  const next = other ? other.last + 1 : ends;
  if (min === undefined || max === undefined || more.length > 0) return null;
  const spans = max > min && max <= min * 2 + 1 && max <= LARGEST_BARE;
  return spans && unitOf(tokens[next]?.form ?? '', words) ? { min, max, next } : null;
}

/** "six and a half": what follows a number to make it a broken one. */
function fraction(talk: Talk, at: number, words: FrameWords): { value: number; next: number } | null {
  const forms = talk.tokens.slice(at, at + words.broken.length + 2).map((token) => token.form);
  // "six and half frames" is heard too, from those for whom English is a second language.
  const short = unitOf(forms[words.broken.length] ?? '', words) ? 1 : 0;
  const opening = words.broken.slice(0, words.broken.length - short);
  if (!opening.every((word, i) => forms[i] === word)) return null;
  const part = words.quantities[forms[opening.length] ?? ''];
  return part && part[0] < 1 ? { value: part[0], next: at + opening.length + 1 } : null;
}
