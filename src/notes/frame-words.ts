import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { z } from 'zod';
import type { Language } from '../language/language.ts';

const list = z.array(z.string()).transform((words) => new Set(words));

const frameWordsSchema = z.strictObject({
  frame: list,
  place: list,
  range: list,
  end: list,
  start: list,
  last: list,
  first: list,
  frames: list,
  seconds: list,
  degrees: list,
  percent: list,
  into: list,
  quantities: z.record(z.string(), z.tuple([z.coerce.number(), z.coerce.number()])),
  between: list,
  alternatives: list,
  passing: list,
  onwards: list,
  needs: z.record(z.string(), z.string()),
  broken: z.array(z.string()),
  more: list,
  parts: z.record(z.string(), z.coerce.number()),
  choice: list,
  vague: list,
});
/** The words with which one language says frames and amounts. */
export type FrameWords = z.infer<typeof frameWordsSchema>;

const read = new Map<string, FrameWords>();

/** The frame words of a language, read once. */
export function frameWordsOf(language: Language): FrameWords {
  const known = read.get(language.folder);
  if (known) return known;
  const text = readFileSync(join(language.folder, 'frame-words.yaml'), 'utf8');
  const words = frameWordsSchema.parse(parse(text, { schema: 'failsafe' }));
  read.set(language.folder, words);
  return words;
}
