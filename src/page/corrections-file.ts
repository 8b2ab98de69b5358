import { basename, dirname, join } from 'node:path';
import lockfile from 'proper-lockfile';
import { PersonError } from '../basics/problem.ts';
import { writingFault } from '../basics/system-message.ts';
import {
  CORRECTIONS_SCHEMA,
  type Corrections,
  type Decision,
  readCorrections,
} from '../corrections/corrections.ts';
import { mergeDecisions } from '../corrections/decisions.ts';
import { readTextIfThere } from '../files/read-text.ts';
import { writeWhole } from '../files/write-whole.ts';
import { sheetName, writtenName } from '../sheet/file-names.ts';
import type { RecordingRef } from '../transcript/transcript.ts';

export const CORRECTIONS_ENDING = '.corrections.json';

/** Where a sheet's corrections are kept: "take3.sheet.json" has "take3.corrections.json" beside it. */
export function correctionsPath(sheetPath: string): string {
  const { name, number } = sheetName(sheetPath);
  return join(dirname(sheetPath), writtenName(name, CORRECTIONS_ENDING, number));
}

/**
 * The corrections in a file, of whatever recording; null where there is none.
 *
 * @throws PersonError where the file is damaged.
 */
export async function loadCorrectionsOfAny(path: string): Promise<Corrections | null> {
  const text = await readTextIfThere(path);
  return text === null ? null : readCorrections(text, basename(path));
}

/**
 * The corrections in a file; null where there is none.
 *
 * @throws PersonError where the file is damaged or belongs to another recording: it is never written over then.
 */
export async function loadCorrections(path: string, recording: RecordingRef): Promise<Corrections | null> {
  const corrections = await loadCorrectionsOfAny(path);
  if (corrections && corrections.recording.sha256 !== recording.sha256) {
    throw new PersonError(
      `${basename(path)} holds corrections of another recording (${corrections.recording.file}): move it away, or give the sheet it belongs to.`,
    );
  }
  return corrections;
}

/** After so long a lock is taken for left behind by a program that was killed. */
const STALE_MILLISECONDS = 5000;

/**
 * Adds decisions to a file: read, merged, and written whole again while nobody else does. What another page or program
 * saved meanwhile stays.
 *
 * @param whileLocked What has to be written with it, before anybody else may save.
 * @returns The file as it is now.
 * @throws PersonError where it cannot be written.
 */
export async function addDecisions(
  path: string,
  recording: RecordingRef,
  added: readonly Decision[],
  whileLocked: (corrections: Corrections) => Promise<void> = async () => undefined,
): Promise<Corrections> {
  const release = await lockfile
    .lock(path, {
      realpath: false,
      stale: STALE_MILLISECONDS,
      retries: { retries: 60, minTimeout: 20, maxTimeout: 200 },
    })
    .catch((error: unknown) => {
      throw writingFault(error, path);
    });
  try {
    const before = await loadCorrections(path, recording);
    const after: Corrections = {
      ...before,
      schema: CORRECTIONS_SCHEMA,
      recording: before?.recording ?? { file: recording.file, sha256: recording.sha256 },
      revision: (before?.revision ?? 0) + 1,
      decisions: mergeDecisions(before?.decisions ?? [], added),
    };
    await writeWhole(path, `${JSON.stringify(after, null, 1)}\n`).catch((error: unknown) => {
      throw writingFault(error, path);
    });
    await whileLocked(after);
    return after;
  } finally {
    await release();
  }
}
