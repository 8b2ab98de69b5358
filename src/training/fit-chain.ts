import { type ChainModel, type Features, forwardBackward } from '../language/chain-model.ts';
import { minimise } from './minimise.ts';

/** Items with their features and the labels a person gave them. */
export interface LabelledSequence {
  readonly items: readonly Features[];
  readonly labels: readonly string[];
}

export interface FitOptions {
  /** Strength of the pull of each weight towards its prior: lambda of lambda/2 * (w - prior)^2. */
  readonly pull?: number;
  /** Features seen in fewer groups (critiques) than this are left out: they are one writer's habit. */
  readonly leastGroups?: number;
  /** Whether neighbours speak (a chain) or items stand alone. */
  readonly chained?: boolean;
  /** What a weight is before any data is seen; a lexicon's own say. */
  readonly prior?: (feature: string, label: string) => number;
}

/**
 * Fits a chain model by penalised maximum likelihood. `groups[k]` names the critique that sequence k comes from.
 * Weights are rounded to three decimals, which keeps the data file small and changes no decision we have seen.
 */
export function fitChain(
  sequences: readonly LabelledSequence[],
  groups: readonly string[],
  labels: readonly string[],
  { pull = 1, leastGroups = 1, chained = false, prior = () => 0 }: FitOptions = {},
): ChainModel {
  const seenIn = new Map<string, Set<string>>();
  sequences.forEach((sequence, k) => {
    for (const features of sequence.items) {
      for (const feature of features) {
        const there = seenIn.get(feature) ?? new Set();
        there.add(groups[k] ?? '');
        seenIn.set(feature, there);
      }
    }
  });
  const known = [...seenIn].filter(([, where]) => where.size >= leastGroups).map(([feature]) => feature);
  const index = new Map(known.map((feature, i) => [feature, i]));
  const n = labels.length;
  const priors = Float64Array.from(known.flatMap((feature) => labels.map((label) => prior(feature, label))));
  const data = sequences.map((sequence) => ({
    items: sequence.items.map((features) => features.flatMap((feature) => index.get(feature) ?? [])),
    gold: sequence.labels.map((label) => labels.indexOf(label)),
  }));
  const links = known.length * n;
  const size = links + (chained ? n * n : 0);

  const objective = (x: Float64Array, gradient: Float64Array): number => {
    let value = 0;
    for (let i = 0; i < size; i++) {
      const away = x[i] ?? 0;
      value += (pull / 2) * away * away;
      gradient[i] = pull * away;
    }
    const weight = (at: number): number => (x[at] ?? 0) + (priors[at] ?? 0);
    const add = (at: number, by: number): void => {
      gradient[at] = (gradient[at] ?? 0) + by;
    };
    const transitions = chained
      ? labels.map((_, a) => labels.map((__, b) => x[links + a * n + b] ?? 0))
      : [];
    for (const { items, gold } of data) {
      if (items.length === 0) continue;
      const scores = items.map((features) => {
        const own = new Array<number>(n).fill(0);
        for (const feature of features) {
          for (let label = 0; label < n; label++) own[label] = (own[label] ?? 0) + weight(feature * n + label);
        }
        return own;
      });
      const { forward, backward, total } = forwardBackward(scores, transitions);
      value += total;
      items.forEach((features, item) => {
        const right = gold[item] ?? 0;
        value -= scores[item]?.[right] ?? 0;
        for (let label = 0; label < n; label++) {
          const p = Math.exp((forward[item]?.[label] ?? 0) + (backward[item]?.[label] ?? 0) - total);
          const slope = p - (label === right ? 1 : 0);
          for (const feature of features) add(feature * n + label, slope);
        }
        if (!chained || item === 0) return;
        const before = gold[item - 1] ?? 0;
        value -= transitions[before]?.[right] ?? 0;
        add(links + before * n + right, -1);
        for (let a = 0; a < n; a++) {
          for (let b = 0; b < n; b++) {
            const p = Math.exp(
              (forward[item - 1]?.[a] ?? 0) +
                (transitions[a]?.[b] ?? 0) +
                (scores[item]?.[b] ?? 0) +
                (backward[item]?.[b] ?? 0) -
                total,
            );
            add(links + a * n + b, p);
          }
        }
      });
    }
    return value;
  };

  const x = minimise(objective, size);
  const round = (value: number): number => Math.round(value * 1000) / 1000;
  const weights: ChainModel['weights'] = {};
  known.forEach((feature, i) => {
    const row = labels.map((_, label) => round((x[i * n + label] ?? 0) + (priors[i * n + label] ?? 0)));
    if (row.some((value) => Math.abs(value) >= 0.02)) weights[feature] = row;
  });
  return {
    labels: [...labels],
    weights,
    transitions: chained ? labels.map((_, a) => labels.map((__, b) => round(x[links + a * n + b] ?? 0))) : [],
  };
}
