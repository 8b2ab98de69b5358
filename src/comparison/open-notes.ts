import type { Note } from '../notes/note.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Ticks } from '../sheet/ticks.ts';
import { carriedOn } from '../sheet/writers/asked.ts';

/** A fix that stood open when the older recording ended. */
export interface OpenNote {
  readonly note: Note;
  /** In how many recordings it was asked for. */
  readonly asked: number;
  /** When it was ticked off, ISO 8601. */
  readonly ticked: string | null;
}

/** Ticks and notes mean the same words where they begin within this. */
const SAME_START_SECONDS = 0.5;

/**
 * The fixes of a sheet that stand, and those of the sheets before it that its recording never mentioned and nobody ticked
 * off: silence mends nothing.
 */
export function openNotes(sheet: Sheet, ticks: Ticks | undefined): OpenNote[] {
  const before = sheet.previous?.notes ?? [];
  const own = sheet.notes
    .filter((note) => note.role === 'fix' && !note.withdrawn)
    .map((note) => ({
      note,
      asked: carriedOn(sheet.previous, note.id)?.asked ?? 1,
      ticked: tickedAt(note, ticks),
    }));
  const older = before
    .filter(({ verdict, ticked }) => verdict === 'not-mentioned' && ticked === null)
    .map(({ note, asked }) => ({ note, asked, ticked: null }));
  return [...own, ...older];
}

/** What the older recording had already settled: words about it are about no open note. */
export function settledNotes(sheet: Sheet): Note[] {
  const before = sheet.previous?.notes ?? [];
  return before
    .filter(({ verdict }) => verdict === 'done' || verdict === 'taken-back')
    .map(({ note }) => note);
}

/** By where its words begin, or else, where no tick has that place, by id. */
function tickedAt(note: Note, ticks: Ticks | undefined): string | null {
  const start = note.spans[0]?.start;
  const done = ticks?.done ?? [];
  const at =
    start === undefined ? undefined : done.find((tick) => Math.abs(tick.start - start) <= SAME_START_SECONDS);
  return (at ?? done.find((tick) => tick.note === note.id && tick.title === note.title))?.at ?? null;
}
