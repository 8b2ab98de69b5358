import type { Token } from './tokens.ts';

/** The words that decimals are said with, and what each is worth. */
interface DecimalWords {
  readonly digits: Readonly<Record<string, number>>;
  readonly teens: Readonly<Record<string, number>>;
  readonly tens: Readonly<Record<string, number>>;
  readonly points: readonly string[];
}

/**
 * A whole number with the decimals that are said after it, and the token after them: "six" and "point seven", "point
 * zero three" or "point seventy-one". Without such words it is given back as it is.
 */
export function withDecimals(
  tokens: readonly Token[],
  whole: { readonly value: number; readonly next: number },
  words: DecimalWords,
): { readonly value: number; readonly next: number } {
  const from = whole.next;
  if (tokens[from - 1]?.stop !== '' || !words.points.includes(tokens[from]?.form ?? '')) return whole;
  let places = '';
  let next = from + 1;
  while (tokens[next - 1]?.stop === '') {
    const form = tokens[next]?.form ?? '';
    const ten = words.tens[form];
    // "seventy-one" is two places, the second in a token of its own.
    const unit =
      ten !== undefined && tokens[next]?.stop === '' ? words.digits[tokens[next + 1]?.form ?? ''] : undefined;
    const place = ten === undefined ? (words.digits[form] ?? words.teens[form]) : ten + (unit ?? 0);
    if (place === undefined && !/^\d+$/.test(form)) break;
    places += place ?? form;
    next += unit ? 2 : 1;
  }
  return places === '' ? whole : { value: Number(`${whole.value}.${places}`), next };
}
