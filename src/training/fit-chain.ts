import type { ChainModel, Features } from '../language/chain-model.ts';
import { minimise } from './minimise.ts';

/** Items with their features and the labels a person gave them. */
export interface LabelledSequence {
  readonly items: readonly Features[];
  readonly labels: readonly string[];
}

export interface FitOptions {
  /** Strength of the pull of a weight towards its prior: lambda of lambda/2 * (w - prior)^2. */
  readonly pull?: (feature: string) => number;
  /** Features seen in fewer groups (critiques) than this are left out: they are one writer's habit. */
  readonly leastGroups?: number;
  /** Whether neighbours speak (a chain) or items stand alone. */
  readonly chained?: boolean;
  /** What a weight is before any data is seen; a lexicon's own say. */
  readonly prior?: (feature: string, label: string) => number;
}

/** Sequences as numbers: for each item the features it has, by index, and its label's index. */
interface Encoded {
  readonly items: readonly Int32Array[];
  readonly gold: Int32Array;
}

/**
 * Fits a chain model by penalised maximum likelihood. `groups[k]` names the critique that sequence k comes from.
 * Weights are rounded to three decimals, which keeps the data file small.
 */
export function fitChain(
  sequences: readonly LabelledSequence[],
  groups: readonly string[],
  labels: readonly string[],
  { pull = () => 1, leastGroups = 1, chained = false, prior = () => 0 }: FitOptions = {},
): ChainModel {
  const known = knownFeatures(
    sequences.map((sequence) => sequence.items),
    groups,
    leastGroups,
  );
  const index = new Map(known.map((feature, i) => [feature, i]));
  const n = labels.length;
  const links = known.length * n;
  const size = links + (chained ? n * n : 0);
  const priors = new Float64Array(size);
  const pulls = new Float64Array(size).fill(1);
  known.forEach((feature, i) => {
    labels.forEach((label, k) => {
      priors[i * n + k] = prior(feature, label);
      pulls[i * n + k] = pull(feature);
    });
  });
  const data = sequences
    .filter((sequence) => sequence.items.length > 0)
    .map(
      (sequence): Encoded => ({
        items: sequence.items.map((features) =>
          Int32Array.from(features.flatMap((feature) => index.get(feature) ?? [])),
        ),
        gold: Int32Array.from(sequence.labels.map((label) => labels.indexOf(label))),
      }),
    );
  const weights = new Float64Array(size);
  const found = minimise((x, gradient) => {
    let value = 0;
    for (let i = 0; i < size; i++) {
      const away = x[i] as number;
      const strength = pulls[i] as number;
      weights[i] = away + (priors[i] as number);
      value += (strength / 2) * away * away;
      gradient[i] = strength * away;
    }
    for (const sequence of data) value += addSequence(sequence, weights, gradient, n, links, chained);
    return value;
  }, size);
  const round = (at: number): number => Math.round(((found[at] ?? 0) + (priors[at] ?? 0)) * 1000) / 1000;
  const rows = known.map((feature, i): [string, number[]] => [
    feature,
    labels.map((_, k) => round(i * n + k)),
  ]);
  return {
    labels: [...labels],
    weights: Object.fromEntries(
      rows.filter(([, row]) => row.some((weight) => Math.abs(weight) >= LEAST_WEIGHT)),
    ),
    transitions: chained ? labels.map((_, a) => labels.map((__, b) => round(links + a * n + b))) : [],
  };
}

/** Weights smaller than this in every label are left out of the file. */
export const LEAST_WEIGHT = 0.02;

/** The features that enough groups have; `sequences[k]` holds items of group `groups[k]`. */
export function knownFeatures(
  sequences: readonly (readonly Features[])[],
  groups: readonly string[],
  leastGroups: number,
): string[] {
  const seenIn = new Map<string, Set<string>>();
  sequences.forEach((sequence, k) => {
    for (const feature of sequence.flat()) {
      const there = seenIn.get(feature) ?? new Set<string>();
      there.add(groups[k] ?? '');
      seenIn.set(feature, there);
    }
  });
  return [...seenIn].filter(([, where]) => where.size >= leastGroups).map(([feature]) => feature);
}

/**
 * Adds one sequence's negative log likelihood to the objective and its slope to the gradient. The inner loops run
 * millions of times in a fit, so they work on flat arrays.
 */
function addSequence(
  { items, gold }: Encoded,
  weights: Float64Array,
  gradient: Float64Array,
  n: number,
  links: number,
  chained: boolean,
): number {
  const length = items.length;
  const scores = new Float64Array(length * n);
  items.forEach((features, item) => {
    for (const feature of features) {
      for (let k = 0; k < n; k++)
        scores[item * n + k] = (scores[item * n + k] as number) + (weights[feature * n + k] as number);
    }
  });
  const forward = Float64Array.from(scores);
  const backward = new Float64Array(length * n);
  const line = new Float64Array(n);
  const step = (a: number, b: number): number => (chained ? (weights[links + a * n + b] as number) : 0);
  for (let item = 1; item < length; item++) {
    for (let b = 0; b < n; b++) {
      for (let a = 0; a < n; a++) line[a] = (forward[(item - 1) * n + a] as number) + step(a, b);
      forward[item * n + b] = (scores[item * n + b] as number) + logSum(line);
    }
  }
  for (let item = length - 2; item >= 0; item--) {
    for (let a = 0; a < n; a++) {
      const next = (item + 1) * n;
      for (let b = 0; b < n; b++)
        line[b] = step(a, b) + (scores[next + b] as number) + (backward[next + b] as number);
      backward[item * n + a] = logSum(line);
    }
  }
  const total = logSum(forward.subarray((length - 1) * n));
  let value = total;
  items.forEach((features, item) => {
    const right = gold[item] as number;
    value -= scores[item * n + right] as number;
    for (let k = 0; k < n; k++) {
      const at = item * n + k;
      const slope =
        Math.exp((forward[at] as number) + (backward[at] as number) - total) - (k === right ? 1 : 0);
      for (const feature of features)
        gradient[feature * n + k] = (gradient[feature * n + k] as number) + slope;
    }
    if (!chained || item === 0) return;
    const before = gold[item - 1] as number;
    value -= step(before, right);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) {
        const at = item * n + b;
        const both =
          (forward[(item - 1) * n + a] as number) +
          step(a, b) +
          (scores[at] as number) +
          (backward[at] as number) -
          total;
        const slot = links + a * n + b;
        gradient[slot] = (gradient[slot] as number) + Math.exp(both) - (a === before && b === right ? 1 : 0);
      }
    }
  });
  return value;
}

function logSum(values: Float64Array): number {
  let most = -Infinity;
  for (const value of values) if (value > most) most = value;
  let sum = 0;
  for (const value of values) sum += Math.exp(value - most);
  return most + Math.log(sum);
}
