import { ISSUES, STRENGTHS } from '../basics/terms.ts';
import type { ChainModel } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { COMMON_WORDS } from '../notes/reading.ts';
import { findDialogue } from '../statements/dialogue.ts';
import { TURN_LABELS } from '../statements/roles.ts';
import { CUT, JOIN, splitTalk } from '../statements/split.ts';
import { crossFitted, withModels } from './cross-fitting.ts';
import { withoutSome } from './dropout.ts';
import {
  amountExamples,
  characterExamples,
  type Example,
  frameExamples,
  judgedExamples,
  noteExamples,
  partExamples,
} from './examples.ts';
import { type FitOptions, fitChain, type LabelledSequence } from './fit-chain.ts';
import { fitPoints } from './fit-points.ts';
import { gapSequence } from './gap-examples.ts';
import type { Prepared } from './prepare.ts';
import { amountPrior, framePrior, issuePrior, pullOf, turnPrior } from './priors.ts';
import { seeded } from './seeded.ts';
import { turnSequence, turnSequenceOn } from './turn-sequences.ts';

/** Parts in which cross-fitting keeps what a model has seen from what it is asked; two where a fit takes long. */
const FOLDS = 4;
const FOLDS_OF_SPLIT = 2;

/** What fitting makes: chain models and plain tables, by the names of their files. */
export interface Fitted {
  readonly models: ReadonlyMap<string, ChainModel>;
  readonly tables: ReadonlyMap<string, unknown>;
}

/** A language with what was fitted. */
export function withFitted(language: Language, { models, tables }: Fitted): Language {
  return { ...withModels(language, models), tables: new Map([...language.tables, ...tables]) };
}

/** Stems that at least this share of critiques hold are common; rarer ones tell all they can. */
const COMMON_SHARE = 0.12;

/** For each common stem the share of critiques that hold it. */
function countCommonWords(prepared: readonly Prepared[]): Record<string, number> {
  const counts = new Map<string, number>();
  for (const { talk } of prepared) {
    for (const stem of new Set(talk.tokens.map((token) => token.stem)))
      counts.set(stem, (counts.get(stem) ?? 0) + 1);
  }
  return Object.fromEntries(
    [...counts]
      .map(([stem, count]): [string, number] => [stem, Math.round((count / prepared.length) * 100) / 100])
      .filter(([, share]) => share >= COMMON_SHARE)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );
}

/** Fits a model of things that stand alone, each labelled by itself; those of one critique are one group. */
function fitAlone(
  prepared: readonly Prepared[],
  examplesOf: (one: Prepared) => readonly Example[],
  labels: readonly string[],
  options: FitOptions,
): ChainModel {
  const examples = prepared.flatMap((one) =>
    examplesOf(one).map((example) => ({ ...example, group: one.critique.name })),
  );
  return fitChain(
    examples.map(({ features, label }) => ({ items: [features], labels: [label] })),
    examples.map(({ group }) => group),
    labels,
    options,
  );
}

/** Fits the model that cuts talk into statements. */
function fitSplit(prepared: readonly Prepared[], language: Language): ChainModel {
  const random = seeded(1);
  const sequences: LabelledSequence[] = [];
  const groups: string[] = [];
  prepared.forEach(({ critique }, i) => {
    for (const style of ['stopped', i % 2 === 0 ? 'bare' : 'untimed'] as const) {
      sequences.push(gapSequence(critique, style, language, random));
      groups.push(critique.name);
    }
  });
  return fitChain(sequences, groups, [CUT, JOIN], { pull: () => 2, leastGroups: 3, chained: true });
}

/**
 * Fits the model that tells what each statement is for. Learns from a person's cuts and from those of a splitter that
 * has not seen the critique.
 */
function fitTurns(prepared: readonly Prepared[], apart: (one: Prepared) => Language): ChainModel {
  const sequences: LabelledSequence[] = [];
  const groups: string[] = [];
  for (const one of prepared) {
    const lines = findDialogue(one.talk.tokens, one.shot.dialogue);
    const own = turnSequence(one);
    const cut = turnSequenceOn(one, splitTalk(one.talk, lines, apart(one)));
    sequences.push(own, cut, { ...own, items: own.items.map(withoutSome) });
    groups.push(one.critique.name, one.critique.name, one.critique.name);
  }
  return fitChain(sequences, groups, TURN_LABELS, {
    pull: (feature) => pullOf(feature, 2),
    leastGroups: 3,
    chained: true,
    prior: turnPrior,
  });
}

/** Fits the model that tells a note's fault, from fixes and keeps alike. */
function fitIssue(prepared: readonly Prepared[]): ChainModel {
  const examplesOf = (one: Prepared) =>
    twice(noteExamples(one).map(({ gold, features }) => ({ features, label: gold.issue })));
  const pull = (feature: string) => pullOf(feature, 1.5);
  return fitAlone(prepared, examplesOf, ISSUES, { pull, leastGroups: 3, prior: issuePrior });
}

/** Examples as they are and again with a part of what the lexicons found left out. */
function twice(examples: readonly Example[]): Example[] {
  return examples.flatMap((example) => [example, { ...example, features: withoutSome(example.features) }]);
}

/** Fits every model of a language on labelled critiques, in the order in which they build on each other. */
export function fitLanguage(prepared: readonly Prepared[], lexicons: Language): Fitted {
  const tables = new Map<string, unknown>([[COMMON_WORDS, countCommonWords(prepared)]]);
  const bare = withFitted(lexicons, { models: new Map(), tables });
  const models = new Map<string, ChainModel>();
  models.set('split', fitSplit(prepared, bare));
  const cutApart = crossFitted(
    prepared,
    () => bare,
    'split',
    (seen) => fitSplit(seen, bare),
    FOLDS_OF_SPLIT,
  );
  models.set('turns', fitTurns(prepared, cutApart));
  const heardApart = crossFitted(
    prepared,
    () => bare,
    'turns',
    (seen) => fitTurns(seen, cutApart),
    FOLDS_OF_SPLIT,
  );
  const apart = crossFitted(prepared, () => bare, 'issue', fitIssue, FOLDS);
  models.set('issue', fitIssue(prepared));
  const judged = (
    labels: readonly string[],
    of: Parameters<typeof judgedExamples>[2],
    pull: number,
  ): ChainModel =>
    fitAlone(prepared, (one) => twice(judgedExamples(one, apart(one), of)), labels, {
      pull: (feature) => pullOf(feature, pull),
      leastGroups: 3,
    });
  models.set(
    'basis',
    judged(['technical', 'taste'], (gold) => gold.basis, 4),
  );
  models.set(
    'strength',
    judged(STRENGTHS, (gold) => gold.strength, 4),
  );
  models.set(
    'tier',
    judged(['1', '2', '3'], (gold) => (gold.role === 'fix' && !gold.withdrawn ? `${gold.tier}` : null), 4),
  );
  const single = (
    labels: readonly string[],
    of: (one: Prepared) => readonly Example[],
    pull: number,
    prior: FitOptions['prior'] = () => 0,
  ): ChainModel => fitAlone(prepared, of, labels, { pull: () => pull, leastGroups: 2, prior });
  models.set(
    'body',
    single(['in', 'out'], (one) => partExamples(one, apart(one)), 2),
  );
  models.set(
    'character',
    single(['meant', 'other'], (one) => characterExamples(one, bare), 1),
  );
  models.set(
    'frame-number',
    single(['frame', 'other'], (one) => frameExamples(one, bare), 4, framePrior),
  );
  models.set(
    'amount',
    single(['change', 'other'], (one) => amountExamples(one, bare), 4, amountPrior),
  );
  const unseen = (one: Prepared): Language =>
    withModels(bare, [
      ...models,
      ...[apart, cutApart, heardApart].flatMap((language) => [...language(one).models]),
    ]);
  for (const [name, model] of fitPoints(prepared, unseen)) models.set(name, model);
  return { models, tables };
}
