import type { Shot } from '../basics/shot.ts';
import type { Features } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { rangeOfWords, readTalk, type Talk, type TokenRange } from '../language/talk.ts';
import { type Critique, type GoldNote, shotOf, spokenForm } from '../measure/critique.ts';
import { evidenceOf, noteFeatures } from '../notes/evidence.ts';
import { amountCandidates } from '../notes/finders/amount.ts';
import { partCandidates } from '../notes/finders/body.ts';
import { dialogueForms, frameCandidates, placeFeatures } from '../notes/finders/frames.ts';
import { judge, withIssue } from '../notes/finders/judge.ts';
import { castOf, readForNotes } from '../notes/reading.ts';
import { findDialogue } from '../statements/dialogue.ts';
import { findRepairs } from '../statements/repairs.ts';
import type { Statement } from '../statements/statement.ts';
import { statementFeatures } from '../statements/statement-features.ts';
import type { Transcript } from '../transcript/transcript.ts';
import type { LabelledSequence } from './fit-chain.ts';

/** One labelled thing: its features and the label a person gave it. */
export interface Example {
  readonly features: Features;
  readonly label: string;
}

/** A critique read with the lexicons, with its segments as the statements that they are. */
export interface Prepared {
  readonly critique: Critique;
  readonly shot: Shot;
  readonly transcript: Transcript;
  readonly talk: Talk;
  readonly segments: readonly { firstWord: number; lastWord: number; start: number; end: number }[];
  readonly ranges: readonly TokenRange[];
  /** The segments as perfectly understood statements. */
  readonly statements: readonly Statement[];
}

/** Reads a critique as if every segment had been cut and understood rightly. */
export function prepare(critique: Critique, language: Language): Prepared {
  const { transcript, segments } = spokenForm(critique);
  const talk = readTalk(transcript.words, language);
  const ranges = segments.map(
    ({ firstWord, lastWord }) => rangeOfWords(talk, firstWord, lastWord) ?? { first: 0, last: 0 },
  );
  const repairs = findRepairs(talk).map(({ kind, first, last }) => ({
    kind,
    firstWord: talk.tokens[first]?.word ?? 0,
    lastWord: talk.tokens[last]?.word ?? 0,
  }));
  const labels = turnLabels(critique);
  const statements = critique.segments.map((segment, i): Statement => {
    const { firstWord, lastWord, start, end } = segments[i] ?? {
      firstWord: 0,
      lastWord: 0,
      start: 0,
      end: 0,
    };
    return {
      id: `s${i + 1}`,
      start,
      end,
      text: segment.say,
      role: segment.role,
      confidence: 1,
      opening: labels[i]?.endsWith('+') ? 1 : 0,
      firstWord,
      lastWord,
      repairs: repairs.filter((repair) => repair.firstWord >= firstWord && repair.lastWord <= lastWord),
    };
  });
  return { critique, shot: shotOf(critique), transcript, talk, segments, ranges, statements };
}

/** For each segment the label of the turns model: its role, and for notes whether another note was talked of before. */
export function turnLabels(critique: Critique): string[] {
  let current: string | undefined;
  return critique.segments.map(({ role, note }) => {
    if (role === 'fix' || role === 'keep') {
      const label = note === current ? role : `${role}+`;
      current = note;
      return label;
    }
    if (role === 'why') current = note ?? current;
    return role;
  });
}

/** The turns of a critique as one labelled sequence, on its own segments. */
export function turnSequence({ critique, talk, ranges, shot }: Prepared): LabelledSequence {
  const lines = findDialogue(talk.tokens, shot.dialogue);
  return { items: statementFeatures(talk, ranges, lines), labels: turnLabels(critique) };
}

/** The turns of a critique on stretches that a splitter made: each takes the label of the segment it shares most with. */
export function turnSequenceOn(
  { critique, talk, ranges, shot }: Prepared,
  stretches: readonly TokenRange[],
): LabelledSequence {
  const lines = findDialogue(talk.tokens, shot.dialogue);
  const labels = turnLabels(critique);
  let seen = -1;
  const own = stretches.map((stretch) => {
    let best = 0;
    let most = 0;
    ranges.forEach((range, i) => {
      const common = Math.min(range.last, stretch.last) - Math.max(range.first, stretch.first) + 1;
      if (common > most) [most, best] = [common, i];
    });
    const label = labels[best] ?? 'aside';
    const again = best === seen;
    seen = best;
    return again ? label.replace('+', '') : label;
  });
  return { items: statementFeatures(talk, stretches, lines), labels: own };
}

/** The segments of a note, in order, as statements; without those that take it back. */
export function statementsOf({ critique, statements }: Prepared, id: string): Statement[] {
  return statements.filter(
    (_, i) => critique.segments[i]?.note === id && critique.segments[i]?.role !== 'drop',
  );
}

/** How often a critique comes to a note: runs of its segments that another note interrupts. */
export function mentionsOf(prepared: Prepared, id: string): Statement[][] {
  const mentions: Statement[][] = [];
  let current: string | undefined;
  prepared.critique.segments.forEach(({ role, note }, i) => {
    if (role === 'aside' || role === 'shot') return;
    const statement = prepared.statements[i];
    if (note === id && role !== 'drop' && statement) {
      if (current === id) mentions.at(-1)?.push(statement);
      else mentions.push([statement]);
    }
    current = role === 'drop' ? undefined : note;
  });
  return mentions;
}

/** Every note of a critique with its features and what a person said of it. */
export function noteExamples(prepared: Prepared): { id: string; gold: GoldNote; features: Features }[] {
  return Object.entries(prepared.critique.notes).flatMap(([id, gold]) => {
    const statements = statementsOf(prepared, id);
    if (statements.length === 0) return [];
    const features = noteFeatures(
      prepared.talk,
      evidenceOf(prepared.talk, statements),
      mentionsOf(prepared, id).length,
    );
    return [{ id, gold, features }];
  });
}

/** Basis, strength and tier examples: the note's features with the fault that the issue model tells. */
export function judgedExamples(
  prepared: Prepared,
  language: Language,
  of: (gold: GoldNote) => string | null,
): Example[] {
  return noteExamples(prepared).flatMap(({ gold, features }) => {
    const label = of(gold);
    return label === null ? [] : [{ features: withIssue(features, judge(features, language).issue), label }];
  });
}

/** Which parts of a note's candidates it is about. */
export function partExamples(prepared: Prepared, language: Language): Example[] {
  return noteExamples(prepared).flatMap(({ id, gold, features }) =>
    partCandidates(
      prepared.talk,
      evidenceOf(prepared.talk, statementsOf(prepared, id)),
      judge(features, language).issue,
    ).map(({ part, features: own }) => ({ features: own, label: gold.body.includes(part) ? 'in' : 'out' })),
  );
}

/** Which numbers of a talk name frames of the shot. */
export function frameExamples(prepared: Prepared, language: Language): Example[] {
  const { critique, talk, shot, statements } = prepared;
  const spoken = dialogueForms(shot);
  return frameCandidates(talk, shot, language).map((said) => {
    const at = segmentAt(prepared, said);
    const frames = at === undefined ? null : critique.notes[critique.segments[at]?.note ?? '']?.frames;
    const [from, to] = said.frames;
    const inside = frames && from >= frames[0] - 1 && to <= frames[1] + 1;
    return {
      features: [...said.features, ...placeFeatures(talk, said, statements, spoken)],
      label: inside ? 'frame' : 'other',
    };
  });
}

/** Which quantities of a talk are the change that their note asks for. */
export function amountExamples(prepared: Prepared, language: Language): Example[] {
  const { critique, talk } = prepared;
  return Object.entries(critique.notes).flatMap(([id, gold]) => {
    if (gold.role !== 'fix') return [];
    const evidence = evidenceOf(talk, statementsOf(prepared, id));
    return amountCandidates(talk, evidence, language).map(({ quantity, features }) => {
      const right =
        gold.amount !== null &&
        gold.amount.unit === quantity.unit &&
        gold.amount.min === quantity.min &&
        gold.amount.max === quantity.max;
      return { features, label: right ? 'change' : 'other' };
    });
  });
}

/** Whom a note is about, of everybody in the shot and nobody. */
export function characterExamples(prepared: Prepared, language: Language): Example[] {
  const { critique, talk, transcript, statements, shot } = prepared;
  const reading = readForNotes(transcript, statements, shot, language);
  return Object.entries(critique.notes).flatMap(([id, gold]) =>
    castOf(reading, evidenceOf(talk, statementsOf(prepared, id))).map(({ name, features }) => ({
      features,
      label: name === gold.character ? 'meant' : 'other',
    })),
  );
}

function segmentAt({ ranges }: Prepared, token: TokenRange): number | undefined {
  const at = ranges.findIndex((range) => token.first >= range.first && token.first <= range.last);
  return at < 0 ? undefined : at;
}
