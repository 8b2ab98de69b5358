import type { Features } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import type { TokenRange } from '../language/talk.ts';
import type { GoldNote } from '../measure/critique.ts';
import { evidenceOf, noteFeatures } from '../notes/evidence.ts';
import { amountCandidates } from '../notes/finders/amount.ts';
import { partCandidates } from '../notes/finders/body.ts';
import { dialogueForms, frameCandidates, placeFeatures } from '../notes/finders/frames.ts';
import { judge, withIssue } from '../notes/finders/judge.ts';
import { castOf, readForNotes } from '../notes/reading.ts';
import type { Statement } from '../statements/statement.ts';
import type { Prepared } from './prepare.ts';

/** One labelled thing: its features and the label a person gave it. */
export interface Example {
  readonly features: Features;
  readonly label: string;
}

/** The segments of a note, in order, as statements; without those that take it back. */
function statementsOf({ critique, statements }: Prepared, id: string): Statement[] {
  return statements.filter(
    (_, i) => critique.segments[i]?.note === id && critique.segments[i]?.role !== 'drop',
  );
}

/** How often a critique comes to a note: runs of its segments that another note interrupts. */
function mentionsOf(prepared: Prepared, id: string): Statement[][] {
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
