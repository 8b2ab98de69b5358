import { type ChainModel, emissions, type Features, logSumExp } from './chain-model.ts';

/**
 * A choice among alternatives of which one is right (conditional logit, McFadden, 1974): each has a score, the weights
 * of its features summed, and is as likely as its score is high beside the others'. The model is a chain model of single items
 * with these two labels; the score is the first one's over the second's.
 */
export const CHOICE_LABELS = ['chosen', 'left'] as const;

/** How likely each alternative is to be the right one; they sum to 1. Empty where there is none. */
export function chances(model: ChainModel, alternatives: readonly Features[]): number[] {
  const scores = emissions(model, alternatives).map(([chosen = 0, left = 0]) => chosen - left);
  const total = logSumExp(scores);
  return scores.map((score) => Math.exp(score - total));
}
