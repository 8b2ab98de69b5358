import type { Note } from '../notes/note.ts';
import type { GoldNote } from './critique.ts';

/** Whether each tag of a note is right; null where the question is not asked of such a note. */
export interface Verdicts {
  readonly role: boolean;
  readonly character: boolean;
  /** All parts and no other. */
  readonly body: boolean;
  readonly side: boolean | null;
  readonly issue: boolean | null;
  readonly issueAmongThree: boolean | null;
  readonly basis: boolean | null;
  readonly strength: boolean | null;
  /** Frames said aloud, within one frame at both ends; also right where none is said and none given. */
  readonly frames: boolean;
  /** Numbers and unit; also right where none is said and none given. */
  readonly amount: boolean;
  readonly options: boolean | null;
}

/** A note with one of these wrong is a wrong note. */
const MAKE_A_NOTE_WRONG = ['role', 'character', 'body', 'issue', 'basis', 'strength'] as const;

const FRAMES_NEAR = 1;
const AMONG = 3;

/** Holds a note against the labels of the gold note that it answers. Keeps have no issue, basis, strength or options. */
export function judgeTags(gold: GoldNote, note: Note): Verdicts {
  const isFix = gold.role === 'fix';
  const issues: readonly (string | null | undefined)[] = gold.issue2
    ? [gold.issue, gold.issue2]
    : [gold.issue];
  const parts = new Set(note.body.map(({ part }) => part));
  const goldParts = new Set(gold.body);
  return {
    role: note.role === gold.role,
    character: note.character === gold.character,
    body: parts.size === goldParts.size && [...parts].every((part) => goldParts.has(part)),
    side: gold.side ? note.body.some(({ side }) => side === gold.side) : null,
    issue: isFix ? issues.includes(note.issue) : null,
    issueAmongThree: isFix
      ? [note.issue, ...note.issueAlternatives].slice(0, AMONG).some((issue) => issues.includes(issue))
      : null,
    basis: isFix ? note.basis === gold.basis : null,
    strength: isFix ? note.strength === gold.strength : null,
    frames: areFramesRight(gold, note),
    amount: isAmountRight(gold, note),
    options: isFix ? note.options.length === gold.alternatives : null,
  };
}

export function isWrong(verdicts: Verdicts): boolean {
  return MAKE_A_NOTE_WRONG.some((tag) => verdicts[tag] === false);
}

/** Frames that were said aloud; those placed from playback or neighbours are another matter. */
export function saidFrames({ frames }: Note): Note['frames'] {
  return frames?.source === 'spoken' ? frames : null;
}

function areFramesRight(gold: GoldNote, note: Note): boolean {
  const said = saidFrames(note);
  if (!gold.frames || !said) return !gold.frames && !said;
  const [first, last] = gold.frames;
  return Math.abs(said.first - first) <= FRAMES_NEAR && Math.abs(said.last - last) <= FRAMES_NEAR;
}

function isAmountRight({ amount: gold }: GoldNote, { amount }: Note): boolean {
  if (!gold || !amount) return !gold && !amount;
  return amount.unit === gold.unit && amount.min === gold.min && amount.max === gold.max;
}
