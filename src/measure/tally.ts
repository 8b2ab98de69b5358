import type { Alignment, Answer } from './align.ts';
import { statementAt } from './align.ts';
import { type Answered, answeredNotes } from './answered.ts';
import { addCounts, type Counts, countNotes } from './counts.ts';
import { gainOfRanking } from './ranking.ts';
import { type Claim, claimsOf } from './reliability.ts';

/** What was called what: a person's word and the program's. */
export type Pair = readonly [gold: string, got: string];

/** Everything that the figures of one critique, or of many, are reckoned from. */
export interface Tally {
  readonly counts: Counts;
  /** One for each segment. */
  readonly roles: readonly Pair[];
  /** One for each fix that was found; so are those of basis and strength. */
  readonly issues: readonly Pair[];
  readonly basis: readonly Pair[];
  readonly strength: readonly Pair[];
  /** One for each critique in which anything is of weight. */
  readonly gains: readonly number[];
  readonly claims: readonly Claim[];
}

/** What stands in the place of a role where no statement was found, and of an issue where the note has none. */
export const NONE = 'none';

/** Counts what is right and wrong in the reading of one critique. */
export function tallyOf(answer: Answer, alignment: Alignment): Tally {
  const { critique, times, statements } = answer;
  const answered = answeredNotes(alignment);
  const fixes = answered.filter(({ gold }) => gold.label.role === 'fix');
  const gain = gainOfRanking(answer, alignment);
  return {
    counts: countNotes(answer, alignment, answered),
    roles: critique.segments.map(({ role }, i) => {
      const span = times[i];
      return [role, (span && statementAt(statements, span)?.role) ?? NONE];
    }),
    issues: fixes.map(issuePair),
    basis: fixes.map(({ gold, note }) => [gold.label.basis, note.basis]),
    strength: fixes.map(({ gold, note }) => [gold.label.strength, note.strength]),
    gains: gain === null ? [] : [gain],
    claims: answered.flatMap(claimsOf),
  };
}

/** The tallies of several critiques as if they had been one. */
export function addTallies(tallies: readonly Tally[]): Tally {
  return {
    counts: addCounts(tallies.map(({ counts }) => counts)),
    roles: tallies.flatMap(({ roles }) => roles),
    issues: tallies.flatMap(({ issues }) => issues),
    basis: tallies.flatMap(({ basis }) => basis),
    strength: tallies.flatMap(({ strength }) => strength),
    gains: tallies.flatMap(({ gains }) => gains),
    claims: tallies.flatMap(({ claims }) => claims),
  };
}

/** A second issue that the label allows counts as the first one does. */
function issuePair({ gold: { label }, note, verdicts }: Answered): Pair {
  return [verdicts.issue && note.issue ? note.issue : label.issue, note.issue ?? NONE];
}
