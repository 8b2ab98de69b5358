import { z } from 'zod';
import { queueJobSchema } from './queue-job.ts';
import type { ReadingQueue } from './submit.ts';

/** What lies on a queue, and what came of it. */
export interface QueueStatus {
  readonly waiting: number;
  readonly done: number;
  /** Those that are being read, with how much of each is done, 0 to 1. */
  readonly reading: readonly { readonly recording: string; readonly done: number }[];
  /** Those that wait to be tried again, with why the last try failed. */
  readonly later: readonly { readonly recording: string; readonly reason: string }[];
  /** Those that failed for good, with the reason. */
  readonly failed: readonly { readonly recording: string; readonly reason: string }[];
}

const progressSchema = z.looseObject({ done: z.number() });
/** More would be no list that a person reads. */
const MOST_LISTED = 1000;

export async function statusOf(queue: ReadingQueue): Promise<QueueStatus> {
  const counts = await queue.getJobCounts('waiting', 'completed');
  const jobs = async (kind: 'active' | 'delayed' | 'failed') =>
    (await queue.getJobs([kind], 0, MOST_LISTED)).filter((job) => job !== undefined);
  const failures = async (kind: 'delayed' | 'failed') =>
    (await jobs(kind)).map((job) => ({ recording: nameOf(job.data), reason: job.failedReason ?? '' }));
  return {
    waiting: counts.waiting ?? 0,
    done: counts.completed ?? 0,
    reading: (await jobs('active')).map((job) => ({
      recording: nameOf(job.data),
      done: progressSchema.safeParse(job.progress).data?.done ?? 0,
    })),
    later: await failures('delayed'),
    failed: await failures('failed'),
  };
}

/** Anybody may have put anything there. */
function nameOf(payload: unknown): string {
  return queueJobSchema.safeParse(payload).data?.job.recording ?? 'something that is no job of critsheet';
}
