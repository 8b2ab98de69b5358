import { readFileSync } from 'node:fs';
import { fillers } from 'fillers';
import { hedges } from 'hedges';
import { describe, expect, it } from 'vitest';
import { weasels } from 'weasels';
import { parse } from 'yaml';
import { z } from 'zod';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { said } from './said.ts';

/** The lexicons that say how a note is meant: how strongly, on what ground, with what choice, or as a filler only. */
const MANNER = new Set(['strength', 'basis', 'options', 'repairs']);

const language = loadLanguage();
const lexiconsIn = (text: string): string[] =>
  readTalk(said(text), language).hits.map(({ lexicon }) => lexicon);
const known = (text: string): boolean => lexiconsIn(text).some((lexicon) => MANNER.has(lexicon));

const leftOut = z
  .array(
    z.strictObject({
      why: z.string(),
      preceded: z.string().optional(),
      followed: z.string().optional(),
      elsewhere: z.literal('true').optional(),
      words: z.array(z.string()),
    }),
  )
  .parse(
    parse(readFileSync(new URL('../fixtures/word-lists/left-out.yaml', import.meta.url), 'utf8'), {
      schema: 'failsafe',
    }),
  );
const excused = leftOut.flatMap(({ words }) => words);

describe.each([
  ['hedges', hedges],
  ['fillers', fillers],
  ['weasels', weasels],
])('the public list of %s', (_name, list) => {
  it('is known to the lexicons, or left out for a reason', () => {
    expect(list.filter((word) => !known(word) && !excused.includes(word))).toEqual([]);
  });
});

describe('a word of these lists', () => {
  const all = new Set([...hedges, ...fillers, ...weasels]);

  it.each(leftOut)(
    'is left out where it is $why, and only where it must be',
    ({ words, preceded, followed, elsewhere }) => {
      expect(words.filter((word) => !all.has(word))).toEqual([]);
      expect(words.filter(known)).toEqual([]);
      if (preceded) expect(words.filter((word) => !known(`${preceded} ${word}`))).toEqual([]);
      if (followed) expect(words.filter((word) => !known(`${word} ${followed}`))).toEqual([]);
      if (elsewhere) expect(words.filter((word) => lexiconsIn(word).length === 0)).toEqual([]);
    },
  );

  it('is left out once', () => {
    expect(excused).toEqual([...new Set(excused)]);
  });
});
