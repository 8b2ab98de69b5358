import type { AmountUnit } from '../../basics/terms.ts';
import type { Language } from '../../language/language.ts';
import type { Talk, TokenRange } from '../../language/talk.ts';
import { type FrameWords, frameWordsOf } from '../frame-words.ts';

/** A number of something: "three or four more frames" is 3 to 4 frames. Both ends of the tokens included. */
export interface Quantity extends TokenRange {
  readonly min: number;
  readonly max: number;
  readonly unit: AmountUnit;
  /** Whether the unit was said; else it was left to be understood: "two more", "make it four". */
  readonly unitSaid: boolean;
}

const UNITS = ['frames', 'seconds', 'degrees', 'percent'] as const;
/** Words that may stand between the number and its unit. */
const REACH = 3;
/** A bare number above this is no number of frames to add. */
const LARGEST_BARE = 24;

interface Size {
  readonly min: number;
  readonly max: number;
  readonly next: number;
}

function unitOf(form: string, words: FrameWords): AmountUnit | undefined {
  return UNITS.find((unit) => words[unit].has(form));
}

/** Every quantity in a talk, in order; none overlaps another. */
export function findQuantities(talk: Talk, language: Language): Quantity[] {
  const words = frameWordsOf(language);
  const found: Quantity[] = [];
  for (let i = 0; i < talk.tokens.length; i++) {
    const quantity = quantityAt(talk, i, words, language);
    if (!quantity) continue;
    found.push(quantity);
    i = quantity.last;
  }
  return found;
}

function quantityAt(talk: Talk, from: number, words: FrameWords, language: Language): Quantity | null {
  const { tokens } = talk;
  const size = sizeAt(talk, from, words, language);
  if (!size) return null;
  let { min, max, next } = size;
  if (tokens[from]?.form.endsWith('%')) return { first: from, last: next - 1, min, max, unit: 'percent', unitSaid: true };
  let more = false;
  for (let skipped = 0; skipped <= REACH; skipped++) {
    const token = tokens[next];
    if (!token || (skipped > 0 && tokens[next - 1]?.stop !== '' && tokens[next - 1]?.stop !== ',')) break;
    const unit = unitOf(token.form, words);
    if (unit) {
      const tail = tailAt(talk, next + 1, words, language);
      if (tail) ({ max } = tail);
      const last = tail ? tail.next - 1 : next;
      return { first: from, last, min: Math.min(min, max), max: Math.max(min, max), unit, unitSaid: true };
    }
    // "half a second": the article belongs to the unit.
    if (!words.between.has(token.form)) break;
    if (words.more.has(token.form)) more = true;
    next += 1;
  }
  const bareArticle = language.numbers.at(tokens, from) === null;
  if (bareArticle || max > LARGEST_BARE || !more) return null;
  return { first: from, last: next - 1, min, max, unit: 'frames', unitSaid: false };
}

/** "a frame or two": what widens a quantity after its unit. */
function tailAt(talk: Talk, from: number, words: FrameWords, language: Language): { max: number; next: number } | null {
  if (talk.tokens[from - 1]?.stop !== '' || !words.alternatives.has(talk.tokens[from]?.form ?? '')) return null;
  const number = language.numbers.at(talk.tokens, from + 1);
  if (!number || number.value > LARGEST_BARE || unitOf(talk.tokens[number.last + 1]?.form ?? '', words)) return null;
  return { max: number.value, next: number.last + 1 };
}

/** One number or a span of two ("one or two", "three to four", "a couple", "a few"), and the token after it. */
function sizeAt(talk: Talk, from: number, words: FrameWords, language: Language): Size | null {
  const { tokens } = talk;
  const form = tokens[from]?.form ?? '';
  const number = language.numbers.at(tokens, from);
  const known = Object.hasOwn(words.quantities, form) ? words.quantities[form] : undefined;
  if (!number && !known) return null;
  const nextForm = tokens[from + 1]?.form ?? '';
  // "a couple", "a few", "a half": the article says nothing of its own.
  if (known && words.between.has(form) && Object.hasOwn(words.quantities, nextForm)) {
    return sizeAt(talk, from + 1, words, language);
  }
  const one: Size = number
    ? { min: number.value, max: number.value, next: number.last + 1 }
    : { min: known?.[0] ?? 0, max: known?.[1] ?? 0, next: from + 1 };
  const halfway = fraction(talk, one.next, words);
  const whole = halfway ? { min: one.min + halfway.value, max: one.max + halfway.value, next: halfway.next } : one;
  if (!words.alternatives.has(tokens[whole.next]?.form ?? '')) return whole;
  const other = language.numbers.at(tokens, whole.next + 1);
  if (!other || other.value <= whole.max) return whole;
  return { min: whole.min, max: other.value, next: other.last + 1 };
}

/** "six and a half": what follows a number to make it a broken one. */
function fraction(talk: Talk, at: number, words: FrameWords): { value: number; next: number } | null {
  const forms = talk.tokens.slice(at, at + words.broken.length + 1).map((token) => token.form);
  if (!words.broken.every((word, i) => forms[i] === word)) return null;
  const part = words.quantities[forms[words.broken.length] ?? ''];
  return part && part[0] < 1 ? { value: part[0], next: at + words.broken.length + 1 } : null;
}
