import type { ChainModel, Features } from '../language/chain-model.ts';
import { CHOICE_LABELS } from '../language/choice.ts';
import { knownFeatures, LEAST_WEIGHT } from './fit-chain.ts';
import { minimise } from './minimise.ts';

/** Alternatives with their features, and which of them a person chose. */
export interface Choice {
  readonly alternatives: readonly Features[];
  readonly chosen: number;
}

/** Fits a choice model by penalised maximum likelihood. `groups[k]` names the critique that choice k comes from. */
export function fitChoice(
  choices: readonly Choice[],
  groups: readonly string[],
  { pull = 1, leastGroups = 1 }: { pull?: number; leastGroups?: number } = {},
): ChainModel {
  const known = knownFeatures(
    choices.map((choice) => choice.alternatives),
    groups,
    leastGroups,
  );
  const index = new Map(known.map((feature, i) => [feature, i]));
  const data = choices.map(({ alternatives, chosen }) => ({
    items: alternatives.map((features) => Int32Array.from(features.flatMap((one) => index.get(one) ?? []))),
    chosen,
  }));
  const weights = minimise((x, gradient) => {
    let value = 0;
    for (let i = 0; i < x.length; i++) {
      const weight = x[i] as number;
      value += (pull / 2) * weight * weight;
      gradient[i] = pull * weight;
    }
    for (const { items, chosen } of data) {
      const scores = items.map((features) => {
        let score = 0;
        for (const feature of features) score += x[feature] as number;
        return score;
      });
      const most = Math.max(...scores);
      const odds = scores.map((score) => Math.exp(score - most));
      const total = odds.reduce((sum, one) => sum + one, 0);
      value += most + Math.log(total) - (scores[chosen] as number);
      items.forEach((features, k) => {
        const slope = (odds[k] as number) / total - (k === chosen ? 1 : 0);
        for (const feature of features) gradient[feature] = (gradient[feature] as number) + slope;
      });
    }
    return value;
  }, known.length);
  const rows = known
    .map((feature, i): [string, number[]] => [feature, [Math.round((weights[i] ?? 0) * 1000) / 1000, 0]])
    .filter(([, [weight = 0]]) => Math.abs(weight) >= LEAST_WEIGHT);
  return { labels: [...CHOICE_LABELS], weights: Object.fromEntries(rows), transitions: [] };
}
