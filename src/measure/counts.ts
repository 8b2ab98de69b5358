import type { Alignment, Answer } from './align.ts';
import type { Answered } from './answered.ts';
import { isWrong, saidFrames } from './tags.ts';

/** Things counted, of which shares are made: so the figures of many critiques are those of one long one. */
// biome-ignore format: one line for each family of counts
const COUNTS = [
  'gold', 'given', 'found',
  'role', 'character', 'partsFound', 'partsGiven', 'partsGold', 'side', 'sideAsked',
  'fixes', 'issue', 'issueAmongThree', 'options',
  'frames', 'framesAsked', 'framesGiven', 'amount', 'amountAsked', 'amountGiven',
  'takenBack', 'takenBackAsked', 'lostToTakingBack',
  'flagged', 'wrong', 'wrongFlagged',
] as const;
export type Counts = Readonly<Record<(typeof COUNTS)[number], number>>;

/** Counts one critique's notes: those found, those taken back, and the tags that are right. */
export function countNotes({ notes }: Answer, alignment: Alignment, answered: readonly Answered[]): Counts {
  const { gold, noteOf, goldOf } = alignment;
  const live = gold.filter(({ label }) => !label.withdrawn);
  const takenBack = gold.filter(({ label }) => label.withdrawn);
  return {
    gold: live.length,
    // A note of something that was taken back is counted against the takings back and not once more here.
    given: notes.filter((note) => !note.withdrawn && !goldOf.get(note)?.label.withdrawn).length,
    found: answered.length,
    takenBack: takenBack.filter((one) => noteOf.get(one)?.withdrawn !== false).length,
    takenBackAsked: takenBack.length,
    lostToTakingBack: live.filter((one) => noteOf.get(one)?.withdrawn).length,
    ...countTags(answered),
  };
}

/** The counts of several critiques together. */
export function addCounts(all: readonly Counts[]): Counts {
  const sums = COUNTS.map((key) => [key, all.reduce((sum, counts) => sum + counts[key], 0)]);
  return Object.fromEntries(sums) as Counts;
}

function countTags(answered: readonly Answered[]) {
  const count = (holds: (one: Answered) => boolean | null): number =>
    answered.filter((one) => holds(one) === true).length;
  const total = (of: (one: Answered) => number): number => answered.reduce((sum, one) => sum + of(one), 0);
  const isFlagged = ({ note }: Answered): boolean => note.check.length > 0;
  return {
    role: count(({ verdicts }) => verdicts.role),
    character: count(({ verdicts }) => verdicts.character),
    partsFound: total(
      ({ gold, note }) => partsOf(note).filter((part) => gold.label.body.includes(part)).length,
    ),
    partsGiven: total(({ note }) => partsOf(note).length),
    partsGold: total(({ gold }) => new Set(gold.label.body).size),
    side: count(({ verdicts }) => verdicts.side),
    sideAsked: count(({ verdicts }) => verdicts.side !== null),
    fixes: count(({ gold }) => gold.label.role === 'fix'),
    issue: count(({ verdicts }) => verdicts.issue),
    issueAmongThree: count(({ verdicts }) => verdicts.issueAmongThree),
    options: count(({ verdicts }) => verdicts.options),
    frames: count(({ gold, verdicts }) => gold.label.frames !== null && verdicts.frames),
    framesAsked: count(({ gold }) => gold.label.frames !== null),
    framesGiven: count(({ note }) => saidFrames(note) !== null),
    amount: count(({ gold, verdicts }) => gold.label.amount !== null && verdicts.amount),
    amountAsked: count(({ gold }) => gold.label.amount !== null),
    amountGiven: count(({ note }) => note.amount !== null),
    flagged: count(isFlagged),
    wrong: count(({ verdicts }) => isWrong(verdicts)),
    wrongFlagged: count((one) => isFlagged(one) && isWrong(one.verdicts)),
  };
}

function partsOf(note: Answered['note']) {
  return [...new Set(note.body.map(({ part }) => part))];
}
