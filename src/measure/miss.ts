import type { Verdicts } from './tags.ts';

/** Something that the program got wrong, with what a developer needs to see why. */
export interface Miss {
  readonly critique: string;
  /** Ids of the gold note and of the note, where there is one. */
  readonly goldNote: string | null;
  readonly note: string | null;
  /** What a person made of the words, and what the program made of them. */
  readonly gold: string;
  readonly got: string;
  readonly words: string;
  /** The greater, the worse, among misses of one kind. */
  readonly weight: number;
}

export interface WrongTag extends Miss {
  readonly tag: keyof Verdicts;
  /** How sure the program was; null for tags that carry no confidence. */
  readonly confidence: number | null;
}

/** Tier 1 is the main thing. What is picky, and keeps, of tier 0, weigh least. */
export function weightOfTier(tier: number): number {
  return tier === 1 ? 2 : tier === 2 ? 1 : 0;
}
