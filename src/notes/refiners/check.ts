import type { Confidences, DraftNote } from '../draft.ts';
import type { Calibrated } from './calibrate.ts';

/** The share of a sheet's notes that a person is shown. */
const SHOWN = 0.2;
/** Notes less likely than this to hold a wrong tag are not shown. */
const LEAST_RISK = 0.2;
/** A tag surer than this is not named among what is uncertain, even in a note that is shown. */
const SURE = 0.85;
/** Most that a person is asked about one note. */
const MOST_ENTRIES = 3;
/** A point joined from far-apart mentions less surely than this is shown. */
const SURELY_JOINED = 0.6;

/** The probability that at least one tag of a note is wrong, the tags taken as independent. */
export function riskOf(confidence: Confidences): number {
  return 1 - Object.values(confidence).reduce((all, one) => all * one, 1);
}

/**
 * The notes of a sheet that a person should look at: the fifth that is likeliest to hold a wrong tag, but none that is
 * likelier right than wrong by far. A share of each sheet and not one limit for all: a mentor who is hard to follow would
 * else have every note shown, and one who is easy to follow none.
 */
export function notesToCheck(notes: readonly DraftNote[]): Set<DraftNote> {
  const live = notes.filter((note) => !note.withdrawn);
  const risky = live
    .filter((note) => riskOf(note.confidence) >= LEAST_RISK)
    .sort((a, b) => riskOf(b.confidence) - riskOf(a.confidence));
  const contradicted = live.filter((note) => note.stood !== null || note.guessedFrom !== null);
  return new Set([...risky.slice(0, Math.ceil(live.length * SHOWN)), ...contradicted]);
}

/** What is uncertain about a note that is shown, least sure first, in plain words. */
export function checksOf(note: DraftNote): string[] {
  const tags = (Object.entries(note.confidence) as [Calibrated, number][]).sort((a, b) => a[1] - b[1]);
  // What is asked of the frames below need not be asked twice.
  const asked = note.stood !== null || note.guessedFrom !== null;
  const unsure = tags
    .filter(([tag, sure], i) => (i === 0 || sure < SURE) && !(asked && tag === 'frames'))
    .slice(0, MOST_ENTRIES);
  const entries = unsure.map(([tag]) => QUESTIONS[tag](note));
  if (note.stood !== null)
    entries.unshift(`frames: ${spanOf(note.frames)} was said, but the shot stood on ${note.stood}`);
  if (note.guessedFrom !== null)
    entries.unshift(`frames: ${spanOf(note.frames)}, a guess ${note.guessedFrom}`);
  if (note.joinedBy < SURELY_JOINED)
    entries.push('joined: said in several places that may be about different points');
  return entries;
}

function spanOf(frames: DraftNote['frames']): string {
  if (!frames) return 'none';
  return frames.first === frames.last ? `${frames.first}` : `${frames.first} to ${frames.last}`;
}

const QUESTIONS: Record<Calibrated, (note: DraftNote) => string> = {
  role: (note) => (note.role === 'fix' ? 'role: a fix, or only talk' : 'role: to keep, or only praise'),
  issue: (note) =>
    note.issueAlternatives.length > 0
      ? `issue: ${[note.issue, ...note.issueAlternatives].slice(0, 3).join(' or ')}`
      : 'issue: not clear',
  body: (note) =>
    note.body.length > 0
      ? `body: ${note.body.map((one) => one.part).join(', ')}, or another part`
      : 'body: no part was heard',
  basis: (note) =>
    note.basis === 'technical'
      ? 'basis: an error of craft, or a matter of taste'
      : 'basis: a matter of taste, or an error of craft',
  strength: (note) => `strength: ${note.strength}, or another`,
  frames: (note) => {
    if (!note.frames) return 'frames: not said';
    const other =
      note.frames.source === 'spoken' ? 'a number that is no frame' : 'where the shot stood a moment before';
    return `frames: ${spanOf(note.frames)}, or ${other}`;
  },
};
