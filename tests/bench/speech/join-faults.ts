import type { Word } from '../../../src/transcript/transcript.ts';
import { scoredWords } from '../scored-words.ts';
import type { TimedWord } from '../sound-files.ts';
import { lineUp } from '../word-error-rate.ts';
import { AROUND_SECONDS } from './cuts.ts';

/** A fault of the join lies no further from the cut than this. */
const NEAR_SECONDS = 1.5;

/** What joining did to words that are right where the same sound is heard whole. */
export interface JoinFaults {
  /** At least one side heard it. */
  readonly lost: string[];
  /** Neither side heard it: the recogniser's fault, which has less to go by. */
  readonly missed: string[];
  readonly doubled: string[];
  /** Another word stands in its place, though a side heard it right. */
  readonly changed: string[];
  /** Another word stands in its place, which no side heard right. */
  readonly misheard: string[];
}

export interface HeardCut {
  readonly truth: readonly TimedWord[];
  readonly whole: readonly Word[];
  readonly joined: readonly Word[];
  /** What each side heard by itself. */
  readonly sides: readonly (readonly { readonly text: string }[])[];
}

export function noFaults(): JoinFaults {
  return { lost: [], missed: [], doubled: [], changed: [], misheard: [] };
}

/** Adds the faults near the cut of one stretch, each with the words around it, said and heard. */
export function addFaults(faults: JoinFaults, { truth, whole, joined, sides }: HeardCut): void {
  const said = scoredWords(truth.map(({ word }) => word));
  const saidTexts = said.map((word) => word.text);
  const texts = plain(joined);
  const bySides = new Set(sides.flatMap((side) => [...rightOnes(saidTexts, plain(side))]));
  const control = plain(whole);
  const right = rightOnes(saidTexts, control);
  const isNear = (index: number) => {
    const word = truth[said[index]?.first ?? 0];
    return word !== undefined && Math.abs((word.start + word.end) / 2 - AROUND_SECONDS) < NEAR_SECONDS;
  };
  const matches = lineUp(saidTexts, texts);
  const added = (all: readonly { truth: number | null }[]) =>
    all.filter((match) => match.truth === null).length;
  const isAdded = added(matches) > added(lineUp(saidTexts, control));
  let at = 0;
  for (const match of matches) {
    if (match.truth !== null) {
      at = match.truth;
      if (!isNear(at) || !right.has(at)) continue;
      const word = saidTexts[at] ?? '';
      const place =
        match.heard ?? matches.find(({ truth: t, heard }) => (t ?? 0) > at && heard !== null)?.heard ?? 0;
      const context = `${around(saidTexts, at)} > ${around(texts, place)}`;
      if (match.heard === null) faults[bySides.has(at) ? 'lost' : 'missed'].push(`${word} (${context})`);
      else if (texts[match.heard] !== word)
        faults[bySides.has(at) ? 'changed' : 'misheard'].push(`${word}: ${texts[match.heard]} (${context})`);
    } else if (match.heard !== null && isNear(at) && isAdded) {
      const word = texts[match.heard];
      if (word === texts[match.heard - 1] || word === texts[match.heard + 1])
        faults.doubled.push(`${word} (${around(saidTexts, at)} > ${around(texts, match.heard)})`);
    }
  }
}

function rightOnes(said: readonly string[], heard: readonly string[]): Set<number> {
  const right = lineUp(said, heard).flatMap(({ truth: t, heard: h }) =>
    t !== null && h !== null && said[t] === heard[h] ? [t] : [],
  );
  return new Set(right);
}

function plain(words: readonly { readonly text: string }[]): string[] {
  return scoredWords(words.map((word) => word.text)).map((word) => word.text);
}

function around(words: readonly string[], at: number): string {
  return words.slice(Math.max(0, at - 2), at + 3).join(' ');
}
