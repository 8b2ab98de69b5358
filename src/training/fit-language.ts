import { ISSUES, STRENGTHS } from '../basics/terms.ts';
import type { ChainModel } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { COMMON_WORDS } from '../notes/reading.ts';
import { findDialogue } from '../statements/dialogue.ts';
import { TURN_LABELS } from '../statements/roles.ts';
import { CUT, JOIN, splitTalk } from '../statements/split.ts';
import {
  amountExamples,
  characterExamples,
  type Example,
  frameExamples,
  gapSequence,
  judgedExamples,
  noteExamples,
  type Prepared,
  partExamples,
  turnSequence,
  turnSequenceOn,
} from './examples.ts';
import { type FitOptions, fitChain, type LabelledSequence } from './fit-chain.ts';
import { joinAndTakeBackExamples } from './join-examples.ts';

/** A lexicon's own say before any critique is seen: a phrase for a fault speaks for that fault. */
const LEXICON_SAY = 1.5;
/** Parts in which cross-fitting keeps what a model has seen from what it is asked. */
const FOLDS = 4;

/** What fitting makes: chain models and plain tables, by the names of their files. */
export interface Fitted {
  readonly models: ReadonlyMap<string, ChainModel>;
  readonly tables: ReadonlyMap<string, unknown>;
}

/** A language with some of its models replaced. */
export function withModels(language: Language, models: Iterable<readonly [string, ChainModel]>): Language {
  return { ...language, models: new Map([...language.models, ...models]) };
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

function fitGathered(
  { sequences, groups }: Grouped,
  labels: readonly string[],
  options: FitOptions,
): ChainModel {
  return fitChain(sequences, groups, labels, options);
}

/** Single words and pairs of words are many and say little each; they are pulled back harder than a lexicon's cues. */
const WORDS = /^(w|b|first|last):/;
const WORD_PULL = 3;

function pullOf(feature: string, pull: number): number {
  return WORDS.test(feature) ? pull * WORD_PULL : pull;
}

/** What a cue says of a statement's role before any critique is seen. */
const CUE_SAY: Readonly<Record<string, readonly [labels: readonly string[], weight: number]>> = {
  'roles:leave-alone': [['keep', 'keep+'], 1.5],
  'roles:praises': [['keep', 'keep+'], 0.7],
  'roles:fixed-since-last': [['keep', 'keep+'], 1],
  'roles:takes-back': [['drop'], 2],
  'roles:gives-reason': [['why'], 1],
  'roles:asks-change': [['fix', 'fix+'], 1],
  'roles:names-fault': [['fix', 'fix+'], 0.7],
  'roles:still-there': [['fix', 'fix+'], 0.5],
  'roles:warmth': [['aside'], 1],
  'roles:greets': [['aside'], 1.5],
  'roles:says-goodbye': [['aside'], 1.5],
  'roles:playback-talk': [['aside'], 1],
  'roles:chatter': [['aside'], 1],
  'roles:laughs': [['aside'], 0.7],
};
/** A cue in the statement before or after says less than one's own. */
const NEIGHBOUR_SAY = 0.35;

export function turnPrior(feature: string, label: string): number {
  const [where, ...cue] = feature.split(':');
  const say = CUE_SAY[cue.join(':')];
  if (!say?.[0].includes(label)) return 0;
  if (where === 'cue') return say[1];
  return (where === 'after' || where === 'before') && label.startsWith('keep') ? say[1] * NEIGHBOUR_SAY : 0;
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
  return fitChain(sequences, groups, [CUT, JOIN], { pull: () => 2, leastGroups: 3, chained: true });
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
  return fitChain(sequences, groups, TURN_LABELS, {
    pull: (feature) => pullOf(feature, 2),
    leastGroups: 3,
    chained: true,
    prior: turnPrior,
  });
}

/** Fits the model that tells a note's fault, from fixes and keeps alike. */
export function fitIssue(prepared: readonly Prepared[]): ChainModel {
  const examples = gather(prepared, (one) =>
    noteExamples(one).map(({ gold, features }) => ({ features, label: gold.issue })),
  );
  return fitGathered(examples, ISSUES, {
    pull: (feature) => pullOf(feature, 1.5),
    leastGroups: 3,
    prior: (feature, label) =>
      feature === `issue:${label}` || feature === `issue-again:${label}` ? LEXICON_SAY : 0,
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

/** A range or a number after the word "frame" is a frame until the critiques say otherwise. */
const FRAME_SAY: Readonly<Record<string, number>> = {
  'frame-word': 1.5,
  'kind:range': 1.5,
  'kind:edge': 1.5,
  'kind:time': 1,
  'place-word': 0.5,
};

function framePrior(feature: string, label: string): number {
  return label === 'frame' ? (FRAME_SAY[feature] ?? 0) : 0;
}

/** Fits every model of a language on labelled critiques, in the order in which they build on each other. */
export function fitLanguage(prepared: readonly Prepared[], lexicons: Language): Fitted {
  const tables = new Map<string, unknown>([[COMMON_WORDS, countCommonWords(prepared)]]);
  const bare = withFitted(lexicons, { models: new Map(), tables });
  const models = new Map<string, ChainModel>();
  const language = (): Language => withModels(bare, models);
  models.set('split', fitSplit(prepared, bare));
  models.set('turns', fitTurns(prepared, language()));
  const apart = crossFitted(prepared, bare);
  models.set('issue', fitIssue(prepared));
  const judged = (
    labels: readonly string[],
    of: Parameters<typeof judgedExamples>[2],
    pull: number,
  ): ChainModel =>
    fitGathered(
      gather(prepared, (one) => judgedExamples(one, apart(one), of)),
      labels,
      { pull: (feature) => pullOf(feature, pull), leastGroups: 3 },
    );
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
  ): ChainModel => fitGathered(gather(prepared, of), labels, { pull: () => pull, leastGroups: 2, prior });
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
    single(['frame', 'other'], (one) => frameExamples(one, bare), 1, framePrior),
  );
  models.set(
    'amount',
    single(['change', 'other'], (one) => amountExamples(one, bare), 1),
  );
  const judging = new Map([...models].filter(([name]) => name !== 'issue' && name !== 'join'));
  const walks = new Map(
    prepared.map((one) => [one, joinAndTakeBackExamples(one, withModels(apart(one), judging))]),
  );
  models.set(
    'join',
    single(['same', 'other'], (one) => walks.get(one)?.join ?? [], 2),
  );
  models.set(
    'take-back',
    single(['meant', 'other'], (one) => walks.get(one)?.takeBack ?? [], 1),
  );
  return { models, tables };
}
