import { isMadeByHand } from '../corrections/steps/notes.ts';
import { correctedFields } from '../corrections/steps/set.ts';
import type { Note } from '../notes/note.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Critique, GoldNote } from './critique.ts';

/** A labelled critique made from a corrected sheet, and how its labels came about. */
export interface Labelled {
  readonly critique: Critique;
  /** Notes that a person settled or changed. */
  readonly byHand: number;
  /** Notes that stand as the machine read them, and that nobody looked at: labels of the machine's own making. */
  readonly untouched: number;
  /** Notes without a known kind of fault, which labels need: left out. */
  readonly unlabelled: number;
}

/**
 * A corrected sheet as a labelled critique. Its words are those that stand after correction, its segments the statements
 * with the role that the notes give them.
 */
export function critiqueOf(sheet: Sheet): Labelled {
  const labelled = sheet.notes.filter((note) => note.issue !== null);
  const notes = Object.fromEntries(
    labelled.flatMap((note) => (note.issue ? [[note.id, goldOf(note, note.issue)] as const] : [])),
  );
  const roles = new Map(sheet.notes.map((note) => [note.id, note.role]));
  const segments = sheet.statements.flatMap((statement, i) => {
    if (statement.text.trim() === '') return [];
    const next = sheet.statements[i + 1];
    const role =
      statement.note === null ? freeRole(statement.role) : roleIn(statement.role, roles.get(statement.note));
    return [
      {
        say: statement.text,
        pause: Math.max(0, (next?.start ?? statement.end) - statement.end),
        role,
        ...(statement.note !== null && statement.note in notes && { note: statement.note }),
      },
    ];
  });
  const frames = labelled.flatMap((note) => (note.frames ? [note.frames.last] : []));
  const { shot } = sheet;
  const first = Math.round(shot.first);
  const last = Math.round(shot.last ?? Math.max(first, ...frames));
  const byHand = labelled.filter(isByHand).length;
  return {
    critique: {
      name: shot.name || sheet.recording.file,
      fps: shot.fps,
      shot: {
        first,
        last,
        characters: shot.characters.map(({ name, words }) => ({ name, words })),
        dialogue: shot.dialogue,
      },
      segments,
      notes,
    },
    byHand,
    untouched: labelled.length - byHand,
    unlabelled: sheet.notes.length - labelled.length,
  };
}

function isByHand(note: Note): boolean {
  return note.settled === true || correctedFields(note).length > 0 || isMadeByHand(note.id);
}

type Role = Critique['segments'][number]['role'];

/** What is in no note any more asks for nothing. */
function freeRole(role: Role): Role {
  return role === 'fix' || role === 'keep' ? 'aside' : role;
}

/** A reason or a taking back stays that; anything else of a note is what the note is. */
function roleIn(role: Role, note: 'fix' | 'keep' | undefined): Role {
  return role === 'why' || role === 'drop' ? role : (note ?? role);
}

/** Tiers of importance as labels have them: 1 has to be done, 2 should be, 3 may be. */
const TIERS = { must: 1, should: 2, could: 3 } as const;

function goldOf(note: Note, issue: GoldNote['issue']): GoldNote {
  const sides = [...new Set(note.body.map(({ side }) => side))];
  return {
    role: note.role,
    withdrawn: note.withdrawn,
    character: note.character,
    body: [...new Set(note.body.map(({ part }) => part))],
    side: sides.length === 1 ? (sides[0] ?? null) : null,
    issue,
    basis: note.basis,
    strength: note.strength,
    frames: note.frames && [note.frames.first, note.frames.last],
    amount: note.amount,
    alternatives: note.options.length,
    tier: TIERS[note.strength],
  };
}
