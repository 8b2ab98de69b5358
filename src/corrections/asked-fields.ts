import type { Note } from '../notes/note.ts';

/** The field that an entry of a note's `check` is about, which stands before its colon: "issue: pop or spacing" is about the issue. */
export function askedField(entry: string): string {
  return entry.split(':')[0] ?? '';
}

/** The fields of a note that a person is asked to look at, in the order of its entries. */
export function askedFields({ check }: Pick<Note, 'check'>): string[] {
  return check.map(askedField);
}
