import { resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Progress } from '../pipeline.ts';
import { recordingName } from '../sheet/file-names.ts';
import type { Outcome } from './outcome.ts';
import type { Pool } from './pool.ts';
import { readClaimed } from './read-claimed.ts';
import type { ReadJob } from './read-job.ts';

/** A claim that others hold is asked for again after so long. */
const ASK_AGAIN_MILLISECONDS = 500;

export interface ManyOptions {
  /** Leave out what has a current sheet. */
  readonly onlyNew: boolean;
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: (job: ReadJob, progress: Progress) => void;
  /** Is told of each job as it ends, whichever way; `current` was left out. */
  readonly onEnd: (job: ReadJob, outcome: Outcome | 'current') => void;
}

/**
 * Reads many recordings, as many at once as the pool holds, begun in their order. A failure of one stops nothing.
 *
 * @throws The signal's reason where it was aborted; what was done by then stays.
 */
export async function readMany(jobs: readonly ReadJob[], pool: Pool, options: ManyOptions): Promise<void> {
  const { signal, onlyNew, onProgress, onEnd } = options;
  const waiting = [...jobs];
  /** Names that this process is making: two recordings of one name in one folder come one after the other. */
  const making = new Set<string>();
  /** What another process was making when it was to begin; that it made is not made again. */
  const left = new Set<ReadJob>();

  const readNext = async (): Promise<void> => {
    for (;;) {
      signal?.throwIfAborted();
      const at = waiting.findIndex((job) => !making.has(placeOf(job)));
      const [job] = at < 0 ? [] : waiting.splice(at, 1);
      if (!job) {
        if (waiting.length === 0) return;
        await pause(ASK_AGAIN_MILLISECONDS, undefined, { signal });
        continue;
      }
      const place = placeOf(job);
      making.add(place);
      const ended = await readClaimed(job, pool, onlyNew || left.has(job), {
        signal,
        onProgress: (progress) => onProgress?.(job, progress),
      }).finally(() => making.delete(place));
      if (ended === 'busy') {
        left.add(job);
        waiting.push(job);
        await pause(ASK_AGAIN_MILLISECONDS, undefined, { signal });
      } else {
        onEnd(job, ended);
      }
    }
  };
  const ends = await Promise.allSettled(Array.from({ length: pool.size }, readNext));
  for (const end of ends) if (end.status === 'rejected') throw end.reason;
}

function placeOf({ folder, recording }: ReadJob): string {
  return folder === null ? resolve(recording) : resolve(folder, recordingName(recording));
}
