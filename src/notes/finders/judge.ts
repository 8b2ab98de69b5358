import { BASES, type Basis, ISSUES, type Issue, STRENGTHS, type Strength } from '../../basics/terms.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';

/** A choice among fixed ids, likeliest first, each with its probability. */
export type Ranked<T extends string> = readonly { readonly value: T; readonly probability: number }[];

/** What a note is, as far as its words tell. */
export interface Judgement {
  readonly issue: Ranked<Issue>;
  readonly basis: Ranked<Basis>;
  readonly strength: Ranked<Strength>;
  /** Probability that the mentor means it as one of the main things, as ordinary, or as something for the end. */
  readonly tier: ReadonlyMap<string, number>;
}

function rank<T extends string>(
  ids: readonly T[],
  model: string,
  features: Features,
  language: Language,
): Ranked<T> {
  const fitted = language.models.get(model);
  const chances = fitted ? classify(fitted, features) : new Map<string, number>();
  return ids
    .map((value) => ({ value, probability: chances.get(value) ?? 0 }))
    .sort((a, b) => b.probability - a.probability);
}

/** Features for basis, strength and tier: the note's own, with the likeliest fault. */
export function withIssue(features: Features, issue: Ranked<Issue>): Features {
  const [first] = issue;
  return first ? [...features, `fault:${first.value}`] : features;
}

/** Tells issue, basis, strength and weight of a note from its features, by the fitted models. */
export function judge(features: Features, language: Language): Judgement {
  const issue = rank(ISSUES, 'issue', features, language);
  const more = withIssue(features, issue);
  const tier = language.models.get('tier');
  return {
    issue,
    basis: rank(BASES, 'basis', more, language),
    strength: rank(STRENGTHS, 'strength', more, language),
    tier: tier ? classify(tier, more) : new Map(),
  };
}
