import type { Problem } from '../basics/problem.ts';
import type { Corrections } from '../corrections/corrections.ts';
import { standing } from '../corrections/decisions.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** Says how many corrections made by hand were applied again, where there are any of this recording. */
export function appliedNotice(
  corrections: Corrections | undefined,
  sheet: Sheet,
  problems: readonly Problem[],
): string[] {
  if (corrections?.recording.sha256 !== sheet.recording.sha256) return [];
  const misfits = problems.filter(({ stage }) => stage === 'corrections').length;
  const made = standing(corrections.decisions).length;
  return [`${made - misfits} of ${made} corrections made by hand were applied again.`];
}
