import type { Problem } from '../basics/problem.ts';
import type { Language } from '../language/language.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Ticks } from '../sheet/ticks.ts';
import { compareSheets } from './compare.ts';

/** The sheet of the recording before, and what was ticked off of it. */
export interface OlderSheet {
  readonly sheet: Sheet;
  readonly ticks?: Ticks | undefined;
}

/** A sheet with what it says of the one before it; without where both are of one recording, and a sentence that says so. */
export function withPrevious(
  sheet: Sheet,
  { sheet: older, ticks }: OlderSheet,
  language: Language,
): { sheet: Sheet; problems: Problem[] } {
  if (isSameRecording(older, sheet)) {
    const message = `The sheet to compare with is of this same recording (${older.recording.file}), so nothing was compared: give the sheet of the recording before.`;
    return { sheet, problems: [{ stage: 'comparison', message }] };
  }
  return { sheet: { ...sheet, previous: compareSheets(older, sheet, language, ticks) }, problems: [] };
}

/** Whether two sheets are of one recording. */
export function isSameRecording({ recording: a }: Sheet, { recording: b }: Sheet): boolean {
  return a.sha256 !== '' && a.sha256 === b.sha256;
}
