import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { type Job, Queue } from 'bullmq';
import type { Redis } from 'ioredis';
import { canonicalJson } from '../basics/canonical-json.ts';
import { hasCurrentSheet } from '../batch/current-sheet.ts';
import type { ReadJob, ReadResult } from '../batch/read-job.ts';
import { findShotFile } from '../files/shot-file.ts';
import { CORRECTIONS_ENDING } from '../page/corrections-file.ts';
import { recordingName } from '../sheet/file-names.ts';
import { sha256OfFile } from '../transcript/models/manifest.ts';
import { PREFIX, QUEUE } from './connection.ts';
import { type QueueJob, toQueueJob } from './queue-job.ts';

/** `new`: it was put there; `again`: it had failed, or its files are gone; `waiting`, `done`: it is there already. */
export type Submitted = 'new' | 'again' | 'waiting' | 'done';

/** A fault of the machine is tried again so often; a person's mistake is not. */
const ATTEMPTS = 3;
const BACKOFF_MILLISECONDS = 5000;
/** How many that are done are remembered, so that they are known when they are submitted again. */
const REMEMBERED = 10_000;

/** The queue of readings on a server. */
export type ReadingQueue = Queue<QueueJob, ReadResult | null>;

export function openQueue(connection: Redis): ReadingQueue {
  const queue: ReadingQueue = new Queue(QUEUE, {
    connection,
    prefix: PREFIX,
    defaultJobOptions: {
      attempts: ATTEMPTS,
      backoff: { type: 'exponential', delay: BACKOFF_MILLISECONDS },
      removeOnComplete: { count: REMEMBERED },
      // What failed for good stays until it is submitted again: nothing that was asked for is forgotten.
      removeOnFail: false,
    },
  });
  // The connection tells of its own faults; without a listener they would end the program.
  queue.on('error', () => undefined);
  return queue;
}

/**
 * Puts a reading on the queue, once: the same content with the same settings and the same files is the same job.
 *
 * @param root The shared folder, as this machine sees it.
 * @throws PersonError where a file is not there, or outside the shared folder.
 */
export async function submit(queue: ReadingQueue, job: ReadJob, root: string): Promise<Submitted> {
  const shotFile = job.shotFile ?? (await findShotFile(job.recording)) ?? undefined;
  const whole: ReadJob = shotFile === undefined ? job : { ...job, shotFile };
  const payload = await toQueueJob(whole, await sha256OfFile(job.recording), root);
  const id = await idOf(payload, whole);
  const known: Job<QueueJob, ReadResult | null> | undefined = await queue.getJob(id);
  if (!known) {
    await queue.add('read', payload, { jobId: id });
    return 'new';
  }
  if (await known.isFailed()) {
    await known.retry('failed', { resetAttemptsMade: true });
    return 'again';
  }
  if (!(await known.isCompleted())) return 'waiting';
  if (await hasCurrentSheet(whole)) return 'done';
  await known.remove();
  await queue.add('read', payload, { jobId: id });
  return 'again';
}

/** By content: of the recording, of every other file that has a say, and of the settings. */
async function idOf(payload: QueueJob, job: ReadJob): Promise<string> {
  const { recording, folder, shotFile, glossary, shotSound, playhead, previous, ticks } = job;
  const corrections = join(folder ?? dirname(recording), `${recordingName(recording)}${CORRECTIONS_ENDING}`);
  const contents: (string | null)[] = [];
  for (const path of [shotFile, glossary, shotSound, playhead, previous, ticks, corrections]) {
    contents.push(path === undefined ? null : await sha256OfFile(path).catch(() => null));
  }
  return createHash('sha256')
    .update(canonicalJson([payload, contents]))
    .digest('hex');
}
