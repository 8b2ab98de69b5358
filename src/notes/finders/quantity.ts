import type { AmountUnit } from '../../basics/terms.ts';
import type { TokenRange } from '../../language/talk.ts';
import type { FrameWords } from '../frame-words.ts';

/** A number of something: "three or four more frames" is 3 to 4 frames. Both ends of the tokens included. */
export interface Quantity extends TokenRange {
  readonly min: number;
  readonly max: number;
  readonly unit: AmountUnit;
  /** Whether the unit was said; else it was left to be understood: "two more", "make it four". */
  readonly unitSaid: boolean;
}

const UNITS = ['frames', 'seconds', 'degrees', 'percent'] as const;

/** The unit that a word says, or undefined. Minutes are seconds too: see `unitsWorth`. */
export function unitOf(form: string, words: FrameWords): AmountUnit | undefined {
  return UNITS.find((unit) => words[unit].has(form)) ?? (words.minutes.has(form) ? 'seconds' : undefined);
}

/** How many of its unit a word stands for: a minute is 60 seconds. */
export function unitsWorth(form: string, words: FrameWords): number {
  return words.minutes.has(form) ? 60 : 1;
}
