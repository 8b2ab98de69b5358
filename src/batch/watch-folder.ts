import { stat } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { type ArrivalOptions, watchArrivals } from './arrivals.ts';
import { failureOf, type Outcome } from './outcome.ts';
import type { Pool } from './pool.ts';
import { type Claimed, readClaimed } from './read-claimed.ts';
import type { ReadJob } from './read-job.ts';
import { settled } from './settle.ts';
import { Slots } from './slots.ts';

export interface WatchOptions extends Omit<ArrivalOptions, 'onFile'> {
  readonly pool: Pool;
  /** What is asked for a recording; null where it is to be left alone. */
  readonly jobOf: (recording: string) => Promise<ReadJob | null>;
  /** A recording is whole when nothing has happened to it for so long. */
  readonly quietMilliseconds: number;
  /** Is told of each recording as it ends; `current`: it had its sheet; `removed`: it was taken away before it was read. */
  readonly onEnd: (recording: string, outcome: Outcome | 'current' | 'removed') => void;
}

/** What another process is making is asked for again after so long. */
const ASK_AGAIN_MILLISECONDS = 1000;

/**
 * Reads each recording that is in a folder or lands there and has no sheet yet, until it is aborted; what is being read
 * then is given up, and no file of it is written. A recording that failed is read again when it changes.
 *
 * @throws PersonError where the folder cannot be watched.
 */
export async function watchFolder(folder: string, options: WatchOptions): Promise<void> {
  const { pool, signal, quietMilliseconds, jobOf, onEnd } = options;
  const slots = new Slots(pool.size);
  /** What is under way, and whether it was changed meanwhile. */
  const underWay = new Map<string, { changed: boolean }>();
  const work = new Set<Promise<void>>();

  const readOnce = async (recording: string): Promise<Claimed | 'left'> => {
    try {
      const job = await jobOf(recording);
      return job ? await readClaimed(job, pool, true, { signal }) : 'left';
    } catch (error) {
      signal.throwIfAborted();
      return { failure: failureOf(recording, error) };
    }
  };

  const handle = async (recording: string, state: { changed: boolean }): Promise<void> => {
    do {
      state.changed = false;
      if (!(await settled(recording, quietMilliseconds, signal))) return;
      const ended = await slots.hold(() => readOnce(recording), signal);
      if (ended === 'left') return;
      if (ended === 'busy') {
        await pause(ASK_AGAIN_MILLISECONDS, undefined, { signal });
        state.changed = true;
      } else if (ended !== 'current' && 'failure' in ended && !(await isThere(recording))) {
        // With the folder it comes back; alone it was somebody's wish.
        if (await isThere(folder)) onEnd(recording, 'removed');
      } else {
        onEnd(recording, ended);
      }
    } while (state.changed);
  };

  const onFile = (recording: string): void => {
    const before = underWay.get(recording);
    if (before) {
      before.changed = true;
      return;
    }
    const state = { changed: false };
    underWay.set(recording, state);
    const done = handle(recording, state)
      .catch((error: unknown) => {
        if (!signal.aborted) onEnd(recording, { failure: failureOf(recording, error) });
      })
      .finally(() => {
        underWay.delete(recording);
        work.delete(done);
      });
    work.add(done);
  };

  try {
    await watchArrivals(folder, { ...options, onFile });
  } finally {
    await Promise.allSettled(work);
  }
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
