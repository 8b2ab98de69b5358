import { z } from 'zod';

/** Looked through by hand: models have tens of thousands of features, and a schema's own walk over them took longer than all else at the start. */
function areWeights(value: unknown): boolean {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  return Object.values(value).every(
    (row) => Array.isArray(row) && row.every((weight) => typeof weight === 'number'),
  );
}

/**
 * A linear-chain conditional random field (Lafferty, McCallum and Pereira, 2001): each item of a sequence carries the
 * features that hold for it, and is given one label. A sequence of one item is a multinomial logistic regression.
 * Weights are data: src/training fits them, JSON files beside the lexicons hold them.
 */
export const chainModelSchema = z.strictObject({
  labels: z.array(z.string()).min(2),
  /** For each feature one weight a label, in the order of `labels`. */
  weights: z.custom<Readonly<Record<string, readonly number[]>>>(areWeights, 'lists of numbers, by feature'),
  /** `transitions[a][b]`: how well label b follows label a. Empty for items that stand alone. */
  transitions: z.array(z.array(z.number())),
});
export type ChainModel = z.infer<typeof chainModelSchema>;

/** The names of the features that hold for one item. Every feature is there or not; unknown ones are passed over. */
export type Features = readonly string[];

/** For each item, the log score of each label before its neighbours are heard. */
export function emissions(model: ChainModel, sequence: readonly Features[]): number[][] {
  return sequence.map((features) => {
    const scores = model.labels.map(() => 0);
    for (const feature of features) {
      const weights = Object.hasOwn(model.weights, feature) ? model.weights[feature] : undefined;
      weights?.forEach((weight, label) => {
        scores[label] = (scores[label] ?? 0) + weight;
      });
    }
    return scores;
  });
}

/** log(sum(exp(x))) without overflow. */
export function logSumExp(values: readonly number[]): number {
  const most = Math.max(...values);
  return most === -Infinity
    ? most
    : most + Math.log(values.reduce((sum, value) => sum + Math.exp(value - most), 0));
}

/** Forward and backward log scores (Rabiner, 1989), of one sequence that has at least one item. */
export function forwardBackward(
  scores: readonly (readonly number[])[],
  transitions: ChainModel['transitions'],
) {
  const step = (from: number, to: number): number => transitions[from]?.[to] ?? 0;
  const forward: number[][] = [];
  scores.forEach((own, item) => {
    const before = forward[item - 1];
    forward.push(
      own.map((score, label) =>
        before ? score + logSumExp(before.map((sum, from) => sum + step(from, label))) : score,
      ),
    );
  });
  const backward: number[][] = scores.map((own) => own.map(() => 0));
  for (let item = scores.length - 2; item >= 0; item--) {
    const own = scores[item + 1] ?? [];
    const after = backward[item + 1] ?? [];
    backward[item] = own.map((_, label) =>
      logSumExp(own.map((score, to) => step(label, to) + score + (after[to] ?? 0))),
    );
  }
  return { forward, backward, total: logSumExp(forward.at(-1) ?? [0]) };
}

/** For each item of a sequence, the probability of each label in the light of the whole sequence. */
export function marginals(model: ChainModel, sequence: readonly Features[]): number[][] {
  if (sequence.length === 0) return [];
  const { forward, backward, total } = forwardBackward(emissions(model, sequence), model.transitions);
  return forward.map((own, item) =>
    own.map((score, label) => Math.exp(score + (backward[item]?.[label] ?? 0) - total)),
  );
}

/** The likeliest labels of a sequence, together (Viterbi, 1967), as indices into `labels`. */
export function likeliest(model: ChainModel, sequence: readonly Features[]): number[] {
  const scores = emissions(model, sequence);
  const from: number[][] = [];
  let best: number[] = [];
  scores.forEach((own, item) => {
    if (item === 0) {
      best = own;
      return;
    }
    const back: number[] = [];
    best = own.map((score, label) => {
      let source = 0;
      let most = -Infinity;
      best.forEach((sum, candidate) => {
        const value = sum + (model.transitions[candidate]?.[label] ?? 0);
        if (value > most) [most, source] = [value, candidate];
      });
      back.push(source);
      return score + most;
    });
    from.push(back);
  });
  let label = best.indexOf(Math.max(...best));
  const path = scores.length === 0 ? [] : [label];
  for (let item = from.length - 1; item >= 0; item--) {
    label = from[item]?.[label] ?? 0;
    path.unshift(label);
  }
  return path;
}

/** The probability of each label of one item that stands alone, by label. */
export function classify(model: ChainModel, features: Features): Map<string, number> {
  const [row = []] = marginals(model, [features]);
  return new Map(model.labels.map((label, index) => [label, row[index] ?? 0]));
}
