import { z } from 'zod';
import type { Shot } from '../basics/shot.ts';
import type { Language } from '../language/language.ts';
import { readTalk, type Talk, type TokenRange } from '../language/talk.ts';
import type { Statement } from '../statements/statement.ts';
import type { Transcript } from '../transcript/transcript.ts';
import { countIssues, countMeanings, type Evidence, evidenceOf, noteFeatures } from './evidence.ts';
import {
  type CharacterCandidate,
  type CharacterMention,
  characterCandidates,
  characterOf,
  findCharacters,
} from './finders/character.ts';
import { withoutSlips } from './finders/frame-slips.ts';
import { findFrames, frameCandidates, type SaidFrames } from './finders/frames.ts';
import { judge } from './finders/judge.ts';
import { findQuantities, type Quantity } from './finders/quantities.ts';
import type { KnownFrames, Sketch } from './refiners/sketch.ts';

/** A talk with everything that is found in it before it is known which notes it makes. */
export interface Reading {
  readonly talk: Talk;
  readonly shot: Shot;
  readonly language: Language;
  /** Every place that may name frames; `frames` are those that do. */
  readonly frameCandidates: readonly SaidFrames[];
  readonly frames: readonly (SaidFrames & { confidence: number })[];
  readonly quantities: readonly Quantity[];
  readonly characters: readonly CharacterMention[];
  readonly wordWeight: (stem: string) => number;
  /** The token at which the mentor begins to sum up; past the end where they do not. */
  readonly summingFrom: number;
}

/** "In short" before this part of a talk sums up one note, not the talk. */
const SUMMING_EARLIEST = 0.6;
/** Notes from this part of a talk on may belong to the summing-up. */
const SUMMING_LATE = 0.75;

/** Reads a transcript for notes. */
export function readForNotes(
  transcript: Transcript,
  statements: readonly Statement[],
  shot: Shot,
  language: Language,
): Reading {
  const heard = readTalk(transcript.words, language);
  const characters = findCharacters(heard, shot);
  const talk = withoutNames(heard, characters);
  const quantities = findQuantities(talk, language);
  const candidates = frameCandidates(talk, shot, language, quantities);
  return {
    talk,
    shot,
    language,
    frameCandidates: candidates,
    frames: findFrames(candidates, talk, statements, shot, language),
    quantities,
    characters,
    wordWeight: wordWeights(language),
    summingFrom:
      talk.hits.find(
        (hit) =>
          hit.lexicon === 'order' &&
          hit.means === 'sums-up' &&
          hit.first / talk.tokens.length > SUMMING_EARLIEST,
      )?.first ?? Number.POSITIVE_INFINITY,
  };
}

/** The hand of "the deckhand" is no body part. */
function withoutNames(talk: Talk, characters: readonly CharacterMention[]): Talk {
  const named = new Set<number>();
  for (const { first, last } of characters) for (let i = first; i <= last; i++) named.add(i);
  return { ...talk, hits: talk.hits.filter((hit) => hit.lexicon !== 'parts' || !named.has(hit.first)) };
}

/** The fitted table of how common words are: for each stem the share of critiques that hold it. */
export const COMMON_WORDS = 'common-words';
const SHORTEST_TELLING_STEM = 3;

/**
 * How much a word tells of what a talk is about, 0 to 1: nothing where every critique says it, all where few do. From
 * the share of our own critiques that hold it (inverse document frequency, Sparck Jones, 1972).
 */
export function wordWeights(language: Language): (stem: string) => number {
  const shares = z.record(z.string(), z.number()).parse(language.tables.get(COMMON_WORDS) ?? {});
  return (stem) => {
    if (stem.length < SHORTEST_TELLING_STEM || /^\d/.test(stem)) return 0;
    const share = Object.hasOwn(shares, stem) ? (shares[stem] ?? 0) : 0;
    return share === 0 ? 1 : Math.min(1, -Math.log(share) / Math.LN10);
  };
}

/** The frames that some stretches name: a range where one is said, else all single frames; null where none is. */
export function framesWithin(reading: Reading, ranges: readonly TokenRange[]): KnownFrames | null {
  const within = (token: number): boolean =>
    ranges.some((range) => token >= range.first && token <= range.last);
  // A range may begin in one statement and end in the next.
  const said = withoutSlips(
    reading.talk,
    reading.frames.filter((frames) => within(frames.first) && within(frames.last)),
  );
  if (said.length === 0) return null;
  const spans = said.filter((frames) => frames.kind === 'range' || frames.kind === 'edge');
  const chosen = spans.length > 0 ? spans.slice(0, 1) : said;
  return {
    frames: [
      Math.min(...chosen.map((one) => one.frames[0])),
      Math.max(...chosen.map((one) => one.frames[1])),
    ],
    confidence: Math.min(...chosen.map((one) => one.confidence)),
  };
}

/** Whether stretches of talk belong to the summing-up. */
export function sumsUp({ talk, summingFrom }: Reading, ranges: readonly TokenRange[]): boolean {
  const begins = ranges[0]?.first ?? 0;
  return begins / Math.max(1, talk.tokens.length) > SUMMING_LATE && begins >= summingFrom;
}

/** What is known of some statements that belong together, for joining and for judging. */
export function sketch(
  reading: Reading,
  role: 'fix' | 'keep',
  mentions: readonly (readonly Statement[])[],
): Sketch {
  const { talk, language } = reading;
  const evidence = evidenceOf(talk, mentions.flat());
  const words = new Map<string, number>();
  for (const stem of evidence.stems) {
    const weight = reading.wordWeight(stem);
    if (weight > 0) words.set(stem, weight);
  }
  // Frames come from the first mention that names any: later ones repeat them or point elsewhere for comparison.
  const frames = mentions
    .map((statements) => framesWithin(reading, evidenceOf(talk, statements).ranges))
    .find((found) => found !== null);
  const parts = new Set(countMeanings(evidence, 'parts').keys());
  return {
    role,
    evidence,
    judgement: judge(noteFeatures(talk, evidence, mentions.length), language),
    parts,
    sides: new Set(countMeanings(evidence, 'sides').keys()),
    character: characterOf(castOf(reading, evidence), language),
    frames: frames ?? null,
    words,
    leading: leadingStems(talk, evidence),
    summing: sumsUp(reading, evidence.ranges),
    late: (evidence.ranges[0]?.first ?? 0) / Math.max(1, talk.tokens.length) > LAST_PART,
    mentions: mentions.length,
  };
}

/** What is said from this part of a talk on is mostly said again, whether or not the mentor says so. */
const LAST_PART = 0.88;
/** How many words of a stretch are its first: where a speaker names what they come back to. */
const LEADING_WORDS = 10;

function leadingStems(talk: Talk, { ranges }: Evidence): Set<string> {
  const [range] = ranges;
  if (!range) return new Set();
  return new Set(talk.tokens.slice(range.first, range.first + LEADING_WORDS).map((token) => token.stem));
}

/** Meanings that bear on whether a note is about anybody at all. */
const CAST_MARKS: ReadonlySet<string> = new Set([
  'camera',
  'prop',
  'staging',
  'tangent',
  'both',
  'whole-shot',
  'points',
]);

/** Everybody that some evidence may be about, and nobody. */
export function castOf(reading: Reading, evidence: Evidence): CharacterCandidate[] {
  const marks = new Set<string>();
  for (const hit of evidence.hits) if (CAST_MARKS.has(hit.means)) marks.add(hit.means);
  const parts = countMeanings(evidence, 'parts');
  if (parts.size === 0) marks.add('no-part');
  if (parts.size === 1) marks.add(`only:${[...parts.keys()][0]}`);
  for (const [issue, count] of countIssues(evidence)) if (count > 1) marks.add(`again:${issue}`);
  return characterCandidates(reading.talk, evidence.ranges, reading.characters, reading.shot, [...marks]);
}
