import { classify, type Features } from '../language/chain-model.ts';
import { hitsWithin, pauseBefore, rangeOfWords, type TokenRange } from '../language/talk.ts';
import { stepOf } from '../statements/split.ts';
import type { Statement } from '../statements/statement.ts';
import type { Reading } from './reading.ts';

/** What one statement names, for telling whether the statement after it is still about the same point. */
interface Facts {
  readonly range: TokenRange;
  readonly parts: ReadonlySet<string>;
  readonly issues: ReadonlySet<string>;
  readonly sides: ReadonlySet<string>;
  readonly characters: ReadonlySet<string>;
  readonly cues: ReadonlySet<string>;
  /** Meanings of the phrases with which it begins. */
  readonly begins: ReadonlySet<string>;
  readonly frames: readonly (readonly [number, number])[];
  readonly amount: boolean;
  readonly stems: ReadonlySet<string>;
}

const OPENING_STEPS = [0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.98];
const COARSE_STEPS = [0.1, 0.35, 0.65, 0.9];
const WORD_STEPS = [0.01, 0.5, 1, 2, 3.5];
const SIZE_STEPS = [2, 3, 4, 6, 9];
const PAUSE_STEPS = [0.25, 0.6, 1.2, 2.5];
const LENGTH_STEPS = [3, 6, 10, 16, 24];
const NEAR_FRAMES = 2;
/** A phrase that begins within so many words of a statement's start is how it begins. */
const BEGINNING = 2;

/** Whether a statement opens a new point, given those that were said about the current one and what is said next. */
export type Opens = (
  current: readonly Statement[],
  statement: Statement,
  next: Statement | undefined,
  interrupted: boolean,
) => boolean;

/** Looks up what statements name, each once. */
export function factsOf(reading: Reading): (statement: Statement) => Facts | null {
  const known = new Map<Statement, Facts | null>();
  return (statement) => {
    const found = known.get(statement);
    if (found !== undefined) return found;
    const facts = readFacts(reading, statement);
    known.set(statement, facts);
    return facts;
  };
}

function readFacts({ talk, frames, quantities, characters }: Reading, statement: Statement): Facts | null {
  const range = rangeOfWords(talk, statement.firstWord, statement.lastWord);
  if (!range) return null;
  const sets = { parts: new Set<string>(), issues: new Set<string>(), sides: new Set<string>() };
  const cues = new Set<string>();
  const begins = new Set<string>();
  for (const { lexicon, means, first } of hitsWithin(talk, range)) {
    if (lexicon === 'parts') sets.parts.add(means);
    else if (lexicon.startsWith('issues/')) sets.issues.add(means);
    else if (lexicon === 'sides') sets.sides.add(means);
    else {
      cues.add(`${lexicon}:${means}`);
      if (first - range.first < BEGINNING) begins.add(`${lexicon}:${means}`);
    }
  }
  const inside = (one: TokenRange): boolean => one.first >= range.first && one.last <= range.last;
  return {
    range,
    ...sets,
    cues,
    begins,
    frames: frames.filter(inside).map((one) => one.frames),
    amount: quantities.some((one) => one.unitSaid && inside(one)),
    characters: new Set(characters.filter(inside).map((one) => one.character.name)),
    stems: new Set(talk.tokens.slice(range.first, range.last + 1).map((token) => token.stem)),
  };
}

function relation(fresh: ReadonlySet<string>, known: ReadonlySet<string>): string {
  if (fresh.size === 0) return known.size === 0 ? 'neither' : 'new-none';
  if (known.size === 0) return 'old-none';
  return [...fresh].some((item) => known.has(item)) ? 'shared' : 'different';
}

function union(facts: readonly Facts[], of: (one: Facts) => Iterable<string>): Set<string> {
  return new Set(facts.flatMap((one) => [...of(one)]));
}

function framesRelation(fresh: Facts['frames'], known: Facts['frames']): string {
  if (fresh.length === 0) return known.length === 0 ? 'neither' : 'new-none';
  if (known.length === 0) return 'old-none';
  const meets = fresh.some((a) =>
    known.some((b) => a[0] <= b[1] + NEAR_FRAMES && b[0] <= a[1] + NEAR_FRAMES),
  );
  return meets ? 'meet' : 'apart';
}

/** What speaks for a statement opening a new point. */
export function openingFeatures(
  reading: Reading,
  facts: (statement: Statement) => Facts | null,
  current: readonly Statement[],
  statement: Statement,
  next: Statement | undefined,
  interrupted: boolean,
): Features {
  const here = facts(statement);
  if (!here) return ['always', 'wordless'];
  const known = current.flatMap((one) => facts(one) ?? []);
  const parts = union(known, (one) => one.parts);
  const issues = union(known, (one) => one.issues);
  const stems = union(known, (one) => one.stems);
  const frames = known.flatMap((one) => one.frames);
  const cues = union(known, (one) => one.cues);
  const follows = next && ['fix', 'keep', 'why'].includes(next.role) ? facts(next) : null;
  const common = (one: Facts): number =>
    [...one.stems].reduce((sum, stem) => sum + (stems.has(stem) ? reading.wordWeight(stem) : 0), 0);
  const p = stepOf(statement.opening, COARSE_STEPS);
  const partsNow = relation(here.parts, parts);
  const partsNext = follows ? relation(follows.parts, parts) : 'last';
  const framesNow = framesRelation(here.frames, frames);
  const framesNext = follows ? framesRelation(follows.frames, frames) : 'last';
  const issuesNow = relation(here.issues, issues);
  const asks = (one: ReadonlySet<string>): boolean => [...one].some((cue) => cue.startsWith('changes:'));
  const asked = asks(cues) ? 'asked' : 'unasked';
  const says = `${here.issues.size > 0 ? 'fault' : 'no-fault'}-${asks(here.cues) ? 'asks' : 'tells'}`;
  const words = stepOf(common(here), WORD_STEPS);
  const size = stepOf(current.length, SIZE_STEPS);
  return [
    'always',
    `role:${statement.role}`,
    `p:${stepOf(statement.opening, OPENING_STEPS)}`,
    `parts:${partsNow}`,
    `parts:${partsNow}:p:${p}`,
    `parts:${partsNow}:next:${partsNext}`,
    `issues:${issuesNow}`,
    `issues:${issuesNow}:parts:${partsNow}`,
    `frames:${framesNow}`,
    `frames:${framesNow}:p:${p}`,
    `frames:${framesNow}:parts:${partsNow}`,
    `frames-next:${framesNow}:${framesNext}`,
    `sides:${relation(
      here.sides,
      union(known, (one) => one.sides),
    )}`,
    `characters:${relation(
      here.characters,
      union(known, (one) => one.characters),
    )}`,
    `asked:${asked}:${says}`,
    `asked:${asked}:p:${p}`,
    `amounts:${known.some((one) => one.amount)}:${here.amount}`,
    `words:${words}`,
    `words:${words}:p:${p}`,
    ...(follows ? [`words-next:${stepOf(common(follows), WORD_STEPS)}`] : []),
    `size:${size}`,
    `size:${size}:p:${p}`,
    `last:${current.at(-1)?.role}`,
    ...(interrupted ? ['interrupted', `interrupted:p:${p}`] : []),
    `pause:${stepOf(pauseBefore(reading.talk, here.range.first), PAUSE_STEPS)}`,
    `length:${stepOf(here.range.last - here.range.first + 1, LENGTH_STEPS)}`,
    ...[...here.begins].map((cue) => `begins:${cue}`),
    ...[...here.cues].map((cue) => `cue:${cue}`),
    `first:${reading.talk.tokens[here.range.first]?.stem}`,
    next && next.role === statement.role ? `next-p:${stepOf(next.opening, COARSE_STEPS)}` : 'next-other',
  ];
}

/** Tells openings by the fitted model; without one, as the statements say of themselves. */
export function openingsOf(reading: Reading): Opens {
  const model = reading.language.models.get('opening');
  if (!model) return (_, statement) => statement.opening >= 0.5;
  const facts = factsOf(reading);
  return (current, statement, next, interrupted) =>
    (classify(model, openingFeatures(reading, facts, current, statement, next, interrupted)).get('opens') ??
      0) >= OPENS_FROM;
}

const OPENS_FROM = 0.6;
