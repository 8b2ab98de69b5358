import { ISSUES, STRENGTHS } from '../basics/terms.ts';
import type { ChainModel } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { TURN_LABELS } from '../statements/roles.ts';
import { CUT, JOIN, splitTalk } from '../statements/split.ts';
import { findDialogue } from '../statements/dialogue.ts';
import {
  amountExamples,
  type Example,
  frameExamples,
  gapSequence,
  judgedExamples,
  noteExamples,
  partExamples,
  type Prepared,
  turnSequence,
  turnSequenceOn,
} from './examples.ts';
import { type FitOptions, fitChain, type LabelledSequence } from './fit-chain.ts';
import { joinAndTakeBackExamples } from './join-examples.ts';

/** A lexicon's own say before any critique is seen: a phrase for a fault speaks for that fault. */
const LEXICON_SAY = 1.5;
/** Parts in which cross-fitting keeps what a model has seen from what it is asked. */
const FOLDS = 4;

/** A language with some of its models replaced. */
export function withModels(language: Language, models: Iterable<readonly [string, ChainModel]>): Language {
  return { ...language, models: new Map([...language.models, ...models]) };
}

/** A repeatable source of numbers from 0 to 1 (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

interface Grouped {
  readonly sequences: LabelledSequence[];
  readonly groups: string[];
}

function gather(prepared: readonly Prepared[], examplesOf: (one: Prepared) => readonly Example[]): Grouped {
  const sequences: LabelledSequence[] = [];
  const groups: string[] = [];
  for (const one of prepared) {
    for (const { features, label } of examplesOf(one)) {
      sequences.push({ items: [features], labels: [label] });
      groups.push(one.critique.name);
    }
  }
  return { sequences, groups };
}

function fitGathered({ sequences, groups }: Grouped, labels: readonly string[], options: FitOptions): ChainModel {
  return fitChain(sequences, groups, labels, options);
}

/** Fits the model that cuts talk into statements. */
export function fitSplit(prepared: readonly Prepared[], language: Language): ChainModel {
  const random = seeded(1);
  const sequences: LabelledSequence[] = [];
  const groups: string[] = [];
  for (const { critique } of prepared) {
    for (const style of ['stopped', 'bare', 'untimed'] as const) {
      sequences.push(gapSequence(critique, style, language, random));
      groups.push(critique.name);
    }
  }
  return fitChain(sequences, groups, [CUT, JOIN], { pull: 2, leastGroups: 3, chained: true });
}

/** Fits the model that tells what each statement is for. Learns from a person's cuts and from the splitter's own. */
export function fitTurns(prepared: readonly Prepared[], language: Language): ChainModel {
  const sequences: LabelledSequence[] = [];
  const groups: string[] = [];
  for (const one of prepared) {
    const lines = findDialogue(one.talk.tokens, one.shot.dialogue);
    sequences.push(turnSequence(one), turnSequenceOn(one, splitTalk(one.talk, lines, language)));
    groups.push(one.critique.name, one.critique.name);
  }
  return fitChain(sequences, groups, TURN_LABELS, { pull: 3, leastGroups: 3, chained: true });
}

/** Fits the model that tells a note's fault, from fixes and keeps alike. */
export function fitIssue(prepared: readonly Prepared[]): ChainModel {
  const examples = gather(prepared, (one) => noteExamples(one).map(({ gold, features }) => ({ features, label: gold.issue })));
  return fitGathered(examples, ISSUES, {
    pull: 1.5,
    leastGroups: 3,
    prior: (feature, label) => (feature === `issue:${label}` || feature === `issue-again:${label}` ? LEXICON_SAY : 0),
  });
}

/** Shares a language out so that each critique is judged by an issue model that has not seen it. */
function crossFitted(prepared: readonly Prepared[], language: Language): (one: Prepared) => Language {
  const languages = Array.from({ length: FOLDS }, (_, fold) =>
    withModels(language, [['issue', fitIssue(prepared.filter((__, i) => i % FOLDS !== fold))]]),
  );
  const place = new Map(prepared.map((one, i) => [one, i % FOLDS]));
  return (one) => languages[place.get(one) ?? 0] ?? language;
}

/** Fits every model of a language on labelled critiques, in the order in which they build on each other. */
export function fitLanguage(prepared: readonly Prepared[], bare: Language): Map<string, ChainModel> {
  const models = new Map<string, ChainModel>();
  const language = (): Language => withModels(bare, models);
  models.set('split', fitSplit(prepared, bare));
  models.set('turns', fitTurns(prepared, language()));
  const apart = crossFitted(prepared, bare);
  models.set('issue', fitIssue(prepared));
  const judged = (labels: readonly string[], of: Parameters<typeof judgedExamples>[2], pull: number): ChainModel =>
    fitGathered(gather(prepared, (one) => judgedExamples(one, apart(one), of)), labels, { pull, leastGroups: 3 });
  models.set('basis', judged(['technical', 'taste'], (gold) => gold.basis, 4));
  models.set('strength', judged(STRENGTHS, (gold) => gold.strength, 4));
  models.set('tier', judged(['1', '2', '3'], (gold) => (gold.role === 'fix' && !gold.withdrawn ? `${gold.tier}` : null), 4));
  const single = (labels: readonly string[], of: (one: Prepared) => readonly Example[], pull: number): ChainModel =>
    fitGathered(gather(prepared, of), labels, { pull, leastGroups: 2 });
  models.set('body', single(['in', 'out'], (one) => partExamples(one, apart(one)), 2));
  models.set('frame-number', single(['frame', 'other'], (one) => frameExamples(one, bare), 0.5));
  models.set('amount', single(['change', 'other'], (one) => amountExamples(one, bare), 1));
  const judging = new Map([...models].filter(([name]) => name !== 'issue' && name !== 'join'));
  const walks = new Map(
    prepared.map((one) => [one, joinAndTakeBackExamples(one, withModels(apart(one), judging))]),
  );
  models.set('join', single(['same', 'other'], (one) => walks.get(one)?.join ?? [], 2));
  models.set('take-back', single(['meant', 'other'], (one) => walks.get(one)?.takeBack ?? [], 1));
  return models;
}
