import type { Shot } from '../../basics/shot.ts';
import type { SaidNumber } from '../../language/numbers.ts';
import { frameOf } from './frame-range.ts';

/** Fewer digits said one by one are two numbers as likely as one: "four five frames". */
const LEAST_DIGITS = 3;

/**
 * What a number names in the shot: itself where the shot has such a frame; else what it would be had the voice, or the
 * recogniser that wrote it down, run less or more of it together. Itself again where none of that fits.
 */
export function readingsOf(number: SaidNumber, shot: Shot): SaidNumber[] {
  if (frameOf(number.value, shot) !== null) return [number];
  const one = oneByOne(number.parts);
  if (one !== null && frameOf(one, shot) !== null) return [{ ...number, value: one, parts: [one] }];
  const apart = number.parts.flatMap((part) => (frameOf(part, shot) === null ? written(part, shot) : [part]));
  return apart.map((value) => ({ ...number, value, parts: [value] }));
}

/** "one five five" is 155, digit by digit; "one two three" is somebody counting. */
function oneByOne(parts: readonly number[]): number | null {
  const digits = parts.length >= LEAST_DIGITS && parts.every((part) => part < 10);
  const counts = parts.every((part, i) => i === 0 || part === (parts[i - 1] ?? 0) + 1);
  return digits && !counts ? Number(parts.join('')) : null;
}

/** What recognisers write as one: "ninety-six" as 906, "ninety-one, ninety-two" as 9192. */
function written(value: number, shot: Shot): number[] {
  const fits = (values: readonly number[]): boolean =>
    values.every((one) => one > 0 && frameOf(one, shot) !== null);
  const whole = `${value}`;
  const ten = [Number(whole[0]) * 10 + Number(whole[2])];
  if (/^[2-9]0[1-9]$/.test(whole) && fits(ten)) return ten;
  const pair = [Number(whole.slice(0, 2)), Number(whole.slice(2))];
  return /^[1-9]\d[1-9]\d$/.test(whole) && fits(pair) ? pair : [value];
}
