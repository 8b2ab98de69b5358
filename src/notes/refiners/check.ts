import type { Confidences, DraftNote } from '../draft.ts';
import type { Calibrated, Calibration } from './calibrate.ts';

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

/** What is uncertain about a note, least sure first, in plain words; empty where nobody need look. */
export function checksOf(note: DraftNote, calibration: Calibration): string[] {
  if (riskOf(note.confidence) < calibration.riskToCheck) return [];
  const tags = (Object.entries(note.confidence) as [Calibrated, number][]).sort((a, b) => a[1] - b[1]);
  const unsure = tags.filter(([, sure], i) => i === 0 || sure < SURE).slice(0, MOST_ENTRIES);
  const entries = unsure.map(([tag]) => QUESTIONS[tag](note));
  if (note.joinedBy < SURELY_JOINED)
    entries.push('joined: said in several places that may be about different points');
  return entries;
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
  frames: (note) =>
    note.frames
      ? `frames: ${note.frames.first} to ${note.frames.last}, or a number that is no frame`
      : 'frames: not said',
};
