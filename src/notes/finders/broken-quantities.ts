import type { Language } from '../../language/language.ts';
import type { Talk } from '../../language/talk.ts';
import type { FrameWords } from '../frame-words.ts';
import { type Quantity, unitOf, unitsWorth } from './quantity.ts';

/** Most words between a dozen and its unit: "a dozen or so more frames". */
const DOZEN_REACH = 3;

/** "two thirds of a second", "a tenth of a second", "half a dozen frames": quantities that no plain number says. */
export function brokenQuantityAt(
  talk: Talk,
  from: number,
  words: FrameWords,
  language: Language,
): Quantity | null {
  return partOfUnit(talk, from, words, language) ?? dozensAt(talk, from, words, language);
}

const formAt = (talk: Talk, i: number): string => talk.tokens[i]?.form ?? '';

/** Where the words from one token on are these, the token after them. */
function after(talk: Talk, from: number, phrase: readonly string[]): number | null {
  return phrase.every((word, i) => formAt(talk, from + i) === word) ? from + phrase.length : null;
}

/** How many of what follows: a number, or an article, which says one. */
function countAt(talk: Talk, from: number, words: FrameWords, language: Language) {
  const number = language.numbers.at(talk.tokens, from);
  if (number) return { value: number.value, next: number.last + 1 };
  const known = Object.hasOwn(words.quantities, formAt(talk, from))
    ? words.quantities[formAt(talk, from)]
    : undefined;
  return known?.[0] === known?.[1] && known ? { value: known[0], next: from + 1 } : null;
}

function partOfUnit(talk: Talk, from: number, words: FrameWords, language: Language): Quantity | null {
  const count = countAt(talk, from, words, language);
  const part = words.denominators.get(formAt(talk, count?.next ?? -1));
  if (!count || !part || !Number.isInteger(count.value)) return null;
  for (const phrase of words.ofOne) {
    const last = after(talk, count.next + 1, phrase);
    const unit = last === null ? undefined : unitOf(formAt(talk, last), words);
    if (last === null || !unit) continue;
    const size = Math.round((count.value / part) * 100) / 100;
    return whole({ first: from, last, min: size, max: size, unit, unitSaid: true }, last, talk, words);
  }
  return null;
}

function dozensAt(talk: Talk, from: number, words: FrameWords, language: Language): Quantity | null {
  const count = countAt(talk, from, words, language);
  if (!count) return null;
  // "half a dozen"
  const next = count.value < 1 && words.between.has(formAt(talk, count.next)) ? count.next + 1 : count.next;
  const times = words.multiples.get(formAt(talk, next));
  if (!times) return null;
  for (let at = next + 1; at <= next + 1 + DOZEN_REACH && talk.tokens[at - 1]?.stop === ''; at++) {
    const unit = unitOf(formAt(talk, at), words);
    const size = count.value * times;
    if (unit)
      return whole({ first: from, last: at, min: size, max: size, unit, unitSaid: true }, at, talk, words);
    if (!words.between.has(formAt(talk, at))) break;
  }
  return null;
}

function whole(quantity: Quantity, unitToken: number, talk: Talk, words: FrameWords): Quantity {
  const worth = unitsWorth(formAt(talk, unitToken), words);
  return { ...quantity, min: quantity.min * worth, max: quantity.max * worth };
}

/** A quantity with the part that is said after its unit, "a second and a half"; minutes are turned into seconds. */
export function completed(talk: Talk, quantity: Quantity, words: FrameWords): Quantity {
  let { min, max, last } = quantity;
  if (!quantity.unitSaid) return quantity;
  const forms = talk.tokens.slice(quantity.first, last + 1).map((token) => token.form);
  const unit = forms.find((form) => unitOf(form, words));
  const part = unit === forms.at(-1) ? partAfter(talk, last, words) : null;
  if (part) {
    min += part.value;
    max += part.value;
    last = part.last;
  }
  const worth = unitsWorth(unit ?? '', words);
  return { ...quantity, min: min * worth, max: max * worth, last };
}

/** "and a half"; without its article, "and half", only where nothing follows that the half could be of. */
function partAfter(talk: Talk, unit: number, words: FrameWords): { value: number; last: number } | null {
  if (talk.tokens[unit]?.stop !== '') return null;
  for (let length = words.broken.length; length > 0; length--) {
    const at = after(talk, unit + 1, words.broken.slice(0, length));
    const part = at === null ? undefined : words.quantities[formAt(talk, at)];
    if (at === null || !part || part[0] >= 1) continue;
    const alone = length === words.broken.length || !talk.tokens[at + 1] || talk.tokens[at]?.stop !== '';
    return alone ? { value: part[0], last: at } : null;
  }
  return null;
}
