import { ISSUES, ROLES } from '../basics/terms.ts';
import type { Language } from '../language/language.ts';
import { findNotes } from '../notes/find-notes.ts';
import type { Calibrated } from '../notes/refiners/calibrate.ts';
import { findStatements } from '../statements/find-statements.ts';
import { type Answer, alignNotes } from './align.ts';
import { type Confusion, confusionOf } from './confusion.ts';
import { type Critique, shotOf, spokenForm } from './critique.ts';
import { type Misses, missesOf, worstOf } from './misses.ts';
import { type Reliability, reliabilityByTag, reliabilityOf } from './reliability.ts';
import { type Figures, figuresOf } from './score.ts';
import { addTallies, type Tally, tallyOf } from './tally.ts';

/** What is known of the reading of one critique. */
export interface Measured {
  readonly name: string;
  readonly tally: Tally;
  readonly misses: Misses;
}

/** Everything that a report of some critiques holds. */
export interface Measurement {
  readonly critiques: readonly { readonly name: string; readonly figures: Figures }[];
  readonly inAll: Figures;
  readonly segments: number;
  readonly notes: number;
  readonly confusion: { readonly role: Confusion; readonly issue: Confusion };
  readonly reliability: {
    readonly overall: Reliability;
    readonly byTag: Readonly<Record<Calibrated, Reliability>>;
  };
  readonly worst: Misses;
}

/** Reads a labelled critique's words as the program reads a transcript; its labels are not looked at. */
export function answerOf(critique: Critique, language: Language): Answer {
  const { transcript, segments } = spokenForm(critique);
  const shot = shotOf(critique);
  const statements = findStatements(transcript, shot, language);
  const { notes } = findNotes(transcript, statements, shot, language);
  return { critique, times: segments, statements, notes };
}

/** Holds a reading against the labels. */
export function measureAnswer(answer: Answer): Measured {
  const alignment = alignNotes(answer);
  return {
    name: answer.critique.name,
    tally: tallyOf(answer, alignment),
    misses: missesOf(answer, alignment),
  };
}

/**
 * The figures of some critiques, one by one and in all.
 *
 * @param worst How many misses of each kind to keep.
 */
export function measurementOf(measured: readonly Measured[], worst: number): Measurement {
  const tally = addTallies(measured.map((one) => one.tally));
  return {
    critiques: measured.map((one) => ({ name: one.name, figures: figuresOf(one.tally) })),
    inAll: figuresOf(tally),
    segments: tally.roles.length,
    notes: tally.counts.gold,
    confusion: { role: confusionOf(tally.roles, ROLES), issue: confusionOf(tally.issues, ISSUES) },
    reliability: { overall: reliabilityOf(tally.claims), byTag: reliabilityByTag(tally.claims) },
    worst: worstOf(
      measured.map((one) => one.misses),
      worst,
    ),
  };
}
