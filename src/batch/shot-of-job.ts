import { PersonError } from '../basics/problem.ts';
import type { KnownShot } from '../basics/shot.ts';
import { findShotFile, readShotFile } from '../files/shot-file.ts';
import type { ReadJob } from './read-job.ts';

/**
 * What is known of a job's shot: its shot file counts more than the defaults.
 *
 * @returns It, and the file where that was found without being named.
 * @throws PersonError where the file cannot be used, or file and defaults do not go together.
 */
export async function shotOf({
  recording,
  shotFile,
  shotDefaults,
}: ReadJob): Promise<{ shot: KnownShot; found: string | null }> {
  const found = shotFile === undefined ? await findShotFile(recording) : null;
  const file = shotFile ?? found;
  const shot = { ...shotDefaults, ...(file && (await readShotFile(file))) };
  const { first = 1, last = null } = shot;
  if (last !== null && last < first) {
    const where = file ? `${file} with the defaults of critsheet.json` : 'The shot of critsheet.json';
    throw new PersonError(
      `${where} ends at frame ${last} and begins at ${first}: give both frames in one file.`,
    );
  }
  return { shot, found };
}
