import { type Claim, claim } from './claim.ts';
import { hasCurrentSheet } from './current-sheet.ts';
import type { Watch } from './do-read-job.ts';
import { failureOf, type Outcome } from './outcome.ts';
import type { Pool } from './pool.ts';
import type { ReadJob } from './read-job.ts';

/** `busy`: another process is making these files. `current`: they are made already. */
export type Claimed = Outcome | 'busy' | 'current';

/**
 * Reads a recording while nobody else does.
 *
 * @param onlyNew Leave out what has a current sheet.
 * @throws The signal's reason where it was aborted.
 */
export async function readClaimed(
  job: ReadJob,
  pool: Pool,
  onlyNew: boolean,
  watch: Watch,
): Promise<Claimed> {
  let held: Claim | null = null;
  try {
    if (job.folder !== null) {
      held = await claim(job.recording, job.folder);
      if (!held) return 'busy';
    }
    if (onlyNew && (await hasCurrentSheet(job))) return 'current';
    return await pool.run(job, watch);
  } catch (error) {
    watch.signal?.throwIfAborted();
    return { failure: failureOf(job.recording, error) };
  } finally {
    await held?.release();
  }
}
