import { normalisedGain } from './agreement.ts';
import type { Alignment, Answer } from './align.ts';
import type { GoldNote } from './critique.ts';

/** What an animator gains by finding a note early: the main thing much, an ordinary fix a little, the picky nothing. */
const GAIN_OF_TIER: Readonly<Record<number, number>> = { 1: 3, 2: 1, 3: 0 };
const DEPTH = 10;

/**
 * nDCG of the first ten fixes: those that answer no fix, or one that was taken back, gain nothing.
 *
 * @returns null for a critique in which nothing is of weight.
 */
export function gainOfRanking({ notes }: Answer, { gold, goldOf }: Alignment): number | null {
  const ranked = notes
    .filter((note) => note.role === 'fix' && !note.withdrawn)
    .sort((a, b) => a.rank - b.rank)
    .map((note) => gainOf(goldOf.get(note)?.label));
  const possible = gold.filter(({ label }) => label.role === 'fix').map(({ label }) => gainOf(label));
  return normalisedGain(ranked, possible, DEPTH);
}

function gainOf(label: GoldNote | undefined): number {
  return label && label.role === 'fix' && !label.withdrawn ? (GAIN_OF_TIER[label.tier] ?? 0) : 0;
}
