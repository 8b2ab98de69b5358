import { z } from 'zod';
import type { Language } from '../language/language.ts';

const list = z.array(z.string()).transform((words) => new Set(words));

const phrases = z.array(z.string()).transform((all) => all.map((phrase) => phrase.split(' ')));

const numbers = z.record(z.string(), z.coerce.number()).transform((worth) => new Map(Object.entries(worth)));

const frameWordsSchema = z.strictObject({
  frame: list,
  besideStep: list,
  pointers: list,
  inSpace: list,
  place: list,
  atTime: list,
  range: list,
  end: list,
  start: list,
  last: list,
  first: list,
  frames: list,
  seconds: list,
  minutes: list,
  degrees: list,
  percent: list,
  percentInTwo: phrases,
  measures: list,
  into: list,
  quantities: z.record(z.string(), z.tuple([z.coerce.number(), z.coerce.number()])),
  pronoun: list,
  bare: list,
  between: list,
  alternatives: list,
  condition: list,
  passing: list,
  onwards: phrases,
  needs: z.record(z.string(), z.string()),
  broken: z.array(z.string()),
  denominators: numbers,
  ofOne: phrases,
  multiples: numbers,
  more: list,
  parts: z.record(z.string(), z.coerce.number()),
  choice: list,
  vague: list,
});
/** The words with which one language says frames and amounts. */
export type FrameWords = z.infer<typeof frameWordsSchema>;

const read = new WeakMap<Language, FrameWords>();

/** The frame words of a language, their form checked once. */
export function frameWordsOf(language: Language): FrameWords {
  let words = read.get(language);
  if (!words) {
    words = frameWordsSchema.parse(language.tables.get('frame-words'));
    read.set(language, words);
  }
  return words;
}
