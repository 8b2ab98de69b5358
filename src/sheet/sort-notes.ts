import type { Note } from '../notes/note.ts';
import { counted } from './counted.ts';
import type { Sheet } from './sheet.ts';

/** A sheet's notes by what an animator does with them. Each is in rank order; `uncertain` repeats notes of the others. */
export interface SortedNotes {
  readonly fixes: readonly Note[];
  readonly keeps: readonly Note[];
  /** Fixes that the mentor left to the animator. */
  readonly optional: readonly Note[];
  readonly withdrawn: readonly Note[];
  readonly uncertain: readonly Note[];
}

/** Sorts a sheet's notes into what to change, keep, do if there is time, and what was taken back. */
export function sortNotes(sheet: Sheet): SortedNotes {
  const ranked = [...sheet.notes].sort((a, b) => a.rank - b.rank);
  const standing = ranked.filter((note) => !note.withdrawn);
  return {
    fixes: standing.filter((note) => note.role === 'fix' && note.strength !== 'could'),
    keeps: standing.filter((note) => note.role === 'keep'),
    optional: standing.filter((note) => note.role === 'fix' && note.strength === 'could'),
    withdrawn: ranked.filter((note) => note.withdrawn),
    uncertain: ranked.filter((note) => note.check.length > 0),
  };
}

/** A sheet in a line: "9 things to change, 3 to keep, 1 taken back. 2 notes to look at." */
export function sheetInShort(sheet: Sheet): string {
  if (sheet.words.length === 0) return 'No speech was heard in this recording, so this sheet has no notes.';
  if (sheet.notes.length === 0) return 'Nothing that was said asks for a change or names a thing to keep.';
  const { fixes, keeps, optional, uncertain, withdrawn } = sortNotes(sheet);
  const parts = [
    counted(fixes.length, 'thing to change', 'things to change'),
    keeps.length > 0 && `${keeps.length} to keep`,
    optional.length > 0 && `${optional.length} if there is time`,
    withdrawn.length > 0 && `${withdrawn.length} taken back`,
  ];
  const look = uncertain.length > 0 ? ` ${counted(uncertain.length, 'note')} to look at.` : '';
  return `${parts.filter(Boolean).join(', ')}.${look}`;
}
