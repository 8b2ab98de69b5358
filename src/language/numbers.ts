import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { z } from 'zod';
import { withDecimals } from './decimals.ts';
import type { Token } from './tokens.ts';

const worth = z.record(z.string(), z.coerce.number());

const numberWordsSchema = z.strictObject({
  digits: worth,
  inner: z.array(z.string()),
  teens: worth,
  tens: worth,
  scales: worth,
  joiners: z.array(z.string()),
  articles: z.array(z.string()),
  points: z.array(z.string()),
  fractions: worth,
});
export type NumberWords = z.infer<typeof numberWordsSchema>;

const DIGITS = /^\d+(\.\d+)?%?$/;
const LEAST_OF_TWO_DIGITS = 10;
/** "ten forty-two" is often printed as a time of day, 10:42; frames are meant. */
const CLOCK = /^(\d{1,2}):(\d\d)$/;

/** A number as it stands among the tokens, both ends included. */
export interface SaidNumber {
  /** As arithmetic reads it, or the run-together reading where that is the only one: "ten forty-two" is 1042. */
  readonly value: number;
  /** The numbers it is made of: [10, 42] for "ten forty-two", [1042] for "1042". */
  readonly parts: readonly number[];
  /** Whether it was said or written with a nought in front: "oh one", "01". */
  readonly padded: boolean;
  readonly first: number;
  readonly last: number;
}

/** Reads number words from a lexicon folder's numbers.yaml. @throws ZodError where the file is not of that form. */
export function readNumberWords(path: string): NumberWords {
  return numberWordsSchema.parse(parse(readFileSync(path, 'utf8'), { schema: 'failsafe' }));
}

/** How a spoken or printed number is read, for one language's number words. */
export class NumberReader {
  private readonly words: NumberWords;

  constructor(words: NumberWords) {
    this.words = words;
  }

  /** Whether a token can be a number or a part of one. */
  isNumber = (form: string): boolean =>
    DIGITS.test(form) ||
    CLOCK.test(form) ||
    [this.words.digits, this.words.teens, this.words.tens, this.words.scales].some((list) =>
      Object.hasOwn(list, form),
    );

  /** The number that begins at a token, the longest reading, or null. Punctuation ends a number. */
  at(tokens: readonly Token[], from: number): SaidNumber | null {
    const parts: number[] = [];
    let next = from;
    while (next < tokens.length) {
      const whole = this.partAt(tokens, next, parts.at(-1));
      if (!whole) break;
      const part = withDecimals(tokens, whole, this.words);
      parts.push(part.value);
      next = part.next;
      if (tokens[next - 1]?.stop !== '') break;
    }
    const [only] = parts;
    if (only === undefined) return null;
    return {
      value: parts.length === 1 ? only : runTogether(parts),
      parts,
      padded:
        only > 0 && (tokens[from]?.form.startsWith('0') || this.words.digits[tokens[from]?.form ?? ''] === 0),
      first: from,
      last: next - 1,
    };
  }

  /** Every number of a talk, in order, none inside another. */
  all(tokens: readonly Token[]): SaidNumber[] {
    const found: SaidNumber[] = [];
    for (let i = 0; i < tokens.length; ) {
      const number = this.at(tokens, i);
      if (number) found.push(number);
      i = number ? number.last + 1 : i + 1;
    }
    return found;
  }

  /** One arithmetic part: "two hundred and five", "forty two", "oh five" (after another part), "1042". */
  private partAt(tokens: readonly Token[], from: number, before: number | undefined) {
    const token = tokens[from];
    if (!token) return null;
    const clock = CLOCK.exec(token.form);
    if (clock) {
      return before === undefined
        ? { value: Number(clock[1]) * 100 + Number(clock[2]), next: from + 1 }
        : null;
    }
    if (DIGITS.test(token.form)) {
      // Digits follow digits only where a recogniser cut one number in two: "10 42".
      const joins = before === undefined || (before < 100 && /^\d\d$/.test(token.form));
      if (!joins) return null;
      const scaled = token.stop === '' && this.words.scales[tokens[from + 1]?.form ?? ''] !== undefined;
      if (!scaled) return { value: Number.parseFloat(token.form), next: from + 1 };
    }
    const { digits, inner, teens, tens, scales, joiners, articles } = this.words;
    const digit = digits[token.form];
    if (digit === 0) {
      const unit = digits[tokens[from + 1]?.form ?? ''];
      const isInner = inner.includes(token.form);
      // "one oh five", "oh one": the nought belongs to what follows; a nought alone is the number 0.
      if ((before !== undefined || isInner) && unit && token.stop === '')
        return { value: unit, next: from + 2 };
      // "one six zero"
      const closes = before !== undefined && before < LEAST_OF_TWO_DIGITS;
      return !isInner && (before === undefined || closes) ? { value: 0, next: from + 1 } : null;
    }
    let value: number | undefined;
    let next = from;
    const small = (at: number): { value: number; next: number } | null => {
      const form = tokens[at]?.form ?? '';
      const ten = tens[form];
      if (ten !== undefined) {
        const unit = tokens[at]?.stop === '' ? digits[tokens[at + 1]?.form ?? ''] : undefined;
        return unit ? { value: ten + unit, next: at + 2 } : { value: ten, next: at + 1 };
      }
      const plain = teens[form] ?? digits[form];
      return plain ? { value: plain, next: at + 1 } : null;
    };
    const head = DIGITS.test(token.form)
      ? { value: Number.parseFloat(token.form), next: from + 1 }
      : small(from);
    if (head) {
      ({ value, next } = head);
    } else if (articles.includes(token.form) || scales[token.form] !== undefined) {
      const at = articles.includes(token.form) ? from + 1 : from;
      if (scales[tokens[at]?.form ?? ''] === undefined) return null;
      value = 1;
      next = at;
    } else return null;
    let total = 0;
    let scale = scales[tokens[next]?.form ?? ''];
    while ((scale !== undefined && tokens[next - 1]?.stop === '') || (scale !== undefined && next === from)) {
      value *= scale ?? 1;
      next += 1;
      if (scale === 1000) {
        total += value;
        value = 0;
      }
      const joined = joiners.includes(tokens[next]?.form ?? '') ? next + 1 : next;
      const rest = tokens[next - 1]?.stop === '' ? small(joined) : null;
      const restScale = rest ? scales[tokens[rest.next]?.form ?? ''] : undefined;
      // "between one hundred and one fifty" or "and two hundred": what follows the "and" is a number of its own.
      const apart = joined > next && rest && (restScale === scale || (rest.value < 10 && small(rest.next)));
      if (rest && !apart) {
        value += rest.value;
        next = rest.next;
        scale = restScale;
      } else if (value > 0 && !rest) {
        // "five hundred thousand"
        scale = scales[tokens[next]?.form ?? ''];
      } else break;
    }
    return { value: total + value, next };
  }
}

/** "ten forty-two" is 1042 and "one oh five" 105: each later part takes two places. */
function runTogether(parts: readonly number[]): number {
  return parts.reduce((sum, part) => sum * 100 + part, 0);
}
