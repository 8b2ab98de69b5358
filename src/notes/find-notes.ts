import type { Pass } from '../basics/pass.ts';
import type { Shot } from '../basics/shot.ts';
import type { Language } from '../language/language.ts';
import type { Statement } from '../statements/statement.ts';
import type { Transcript } from '../transcript/transcript.ts';
import type { DraftNote } from './draft.ts';
import { draftNote } from './draft-note.ts';
import type { Note } from './note.ts';
import { placingOf } from './playhead/place-note.ts';
import { findPoints } from './points.ts';
import { readForNotes } from './reading.ts';
import { calibrationOf } from './refiners/calibrate.ts';
import { checksOf, notesToCheck } from './refiners/check.ts';
import { atSameMoment } from './refiners/moments.ts';
import { betweenNeighbours } from './refiners/neighbours.ts';

/** Notes in the order of their ranks, and for each statement that went into one, the id of that note. */
export interface FoundNotes {
  readonly notes: Note[];
  readonly noteOfStatement: ReadonlyMap<string, string>;
}

/**
 * Makes notes of statements: joins what is about one point, tags each, puts the fixes in order, keeps after them, and
 * last what was taken back. Ids follow the order in which points were first made. `passes` tell where the shot stood, in
 * the order of time.
 */
export function findNotes(
  transcript: Transcript,
  statements: readonly Statement[],
  shot: Shot,
  language: Language,
  passes: readonly Pass[] = [],
): FoundNotes {
  const reading = readForNotes(transcript, statements, shot, language);
  const calibration = calibrationOf(language);
  const placing = placingOf(reading, statements, passes);
  const placed = findPoints(reading, statements).map((point) =>
    draftNote(point, reading, calibration, placing),
  );
  const drafts = placed.map((draft, i) => {
    const guess = atSameMoment(placed, i, shot.fps) ?? betweenNeighbours(placed, i, shot.fps);
    return { id: `n${i + 1}`, draft: { ...draft, ...guess } };
  });
  const shown = notesToCheck(drafts.map(({ draft }) => draft));
  const noteOfStatement = new Map<string, string>();
  for (const { id, draft } of drafts)
    for (const statement of draft.statementIds) noteOfStatement.set(statement, id);
  const ordered = [...drafts].sort(
    (a, b) => placeOf(a.draft) - placeOf(b.draft) || b.draft.priority.score - a.draft.priority.score,
  );
  const notes = ordered.map(({ id, draft }, i): Note => {
    const { joinedBy, begun, stood, guessedFrom, moments, statementIds, ...note } = draft;
    return { id, rank: i + 1, ...note, check: shown.has(draft) ? checksOf(draft) : [] };
  });
  return { notes, noteOfStatement };
}

/** Fixes, then keeps, then what was taken back; optional ideas last among the fixes. */
function placeOf(note: DraftNote): number {
  if (note.withdrawn) return 3;
  if (note.role === 'keep') return 2;
  return note.strength === 'could' ? 1 : 0;
}
