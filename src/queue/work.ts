import { relative, sep } from 'node:path';
import { type Job, UnrecoverableError, WaitingError, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import { PersonError } from '../basics/problem.ts';
import type { Outcome } from '../batch/outcome.ts';
import type { Pool } from '../batch/pool.ts';
import { readClaimed } from '../batch/read-claimed.ts';
import type { ReadJob, ReadResult } from '../batch/read-job.ts';
import type { Progress } from '../pipeline.ts';
import { PREFIX, QUEUE } from './connection.ts';
import { fromQueueJob, type QueueJob } from './queue-job.ts';
import { realRoot } from './root.ts';

export interface WorkOptions {
  readonly connection: Redis;
  readonly pool: Pool;
  /** The shared folder, as this machine sees it. */
  readonly root: string;
  /** Stops the work: what is being read goes back to the queue. */
  readonly signal: AbortSignal;
  /** After so long without a sign of life a job is another worker's. */
  readonly lockMilliseconds?: number;
  /** How much of the path is done, 0 to 1. */
  readonly partDone: (progress: Progress) => number;
  readonly onBegin?: (recording: string) => void;
  readonly onDone?: (recording: string, result: ReadResult | null) => void;
  /** `again`: it will be tried once more. */
  readonly onFailed?: (recording: string, reason: string, again: boolean) => void;
}

const LOCK_MILLISECONDS = 30_000;
/** Workers that died with a job in hand, before the job itself is blamed. */
const MOST_DEATHS = 3;
/** No person sees more. */
const PROGRESS_MILLISECONDS = 1000;

/** Does what lies on the queue, as it comes, in the threads of a pool, until the worker that it gives is closed. */
export function work(options: WorkOptions): Worker<QueueJob, ReadResult | null> {
  const { connection, pool, lockMilliseconds = LOCK_MILLISECONDS } = options;
  const worker = new Worker<QueueJob, ReadResult | null>(QUEUE, (job, token) => doOne(job, token, options), {
    connection,
    prefix: PREFIX,
    concurrency: pool.size,
    lockDuration: lockMilliseconds,
    stalledInterval: lockMilliseconds / 2,
    maxStalledCount: MOST_DEATHS,
  });
  // The connection tells that the server went away; what the worker says of that would be said many times.
  worker.on('error', () => undefined);
  worker.on('failed', (job, error) => {
    if (!job) return;
    const again = !(error instanceof UnrecoverableError) && job.attemptsMade < (job.opts.attempts ?? 1);
    options.onFailed?.(recordingOf(job), error.message, again);
  });
  worker.on('completed', (job, result) => options.onDone?.(recordingOf(job), result));
  return worker;
}

async function doOne(
  queued: Job<QueueJob, ReadResult | null>,
  token: string | undefined,
  options: WorkOptions,
): Promise<ReadResult | null> {
  const { pool, signal, partDone } = options;
  // A network folder that is not there just now may come back: that is tried again, and no fault of the job.
  const root = await realRoot(options.root);
  const { job } = await fromQueueJob(queued.data, root).catch((error: unknown) => {
    throw error instanceof PersonError ? new UnrecoverableError(error.message) : error;
  });
  options.onBegin?.(queued.data.job.recording);
  let told = 0;
  const onProgress = (progress: Progress): void => {
    if (performance.now() - told < PROGRESS_MILLISECONDS) return;
    told = performance.now();
    queued.updateProgress({ stage: progress.stage, done: partDone(progress) }).catch(() => undefined);
  };
  // Begun before and not ended, as by a worker that died: what it wrote need not be written again.
  const begunBefore = queued.attemptsStarted > 1;
  try {
    const outcome = await readClaimed(job, pool, begunBefore, { signal, onProgress });
    return resultOf(outcome, job, root);
  } catch (error) {
    if (!signal.aborted) throw error;
    await queued.moveToWait(token);
    throw new WaitingError();
  }
}

function resultOf(outcome: Outcome | 'busy' | 'current', job: ReadJob, root: string): ReadResult | null {
  if (outcome === 'current') return null;
  if (outcome === 'busy') throw new Error(`${job.recording} is being read by another program just now.`);
  if ('failure' in outcome) {
    const { message, mistake } = outcome.failure;
    throw mistake ? new UnrecoverableError(message) : new Error(message);
  }
  const { recording, written, ...rest } = outcome.result;
  const shared = (path: string): string => relative(root, path).split(sep).join('/');
  return { ...rest, recording: shared(recording), written: written.map(shared) };
}

function recordingOf(job: Job<QueueJob>): string {
  const { data } = job as { data: Partial<QueueJob> | null };
  return data?.job?.recording ?? `job ${job.id}`;
}
