import { z } from 'zod';
import { describeIssue } from '../basics/json-issue.ts';
import { PersonError } from '../basics/problem.ts';
import { type ReadJob, readJobSchema } from '../batch/read-job.ts';
import { pathInside, wholePath } from './root.ts';

export const QUEUE_JOB_SCHEMA = 'critsheet-job/1';

/** The keys of a job that are paths; on a queue they are relative to the folder that all machines share. */
const PATHS = [
  'recording',
  'folder',
  'shotFile',
  'glossary',
  'shotSound',
  'playhead',
  'previous',
  'ticks',
  'shotPicture',
] as const;

/** A model is named by its id: a folder would be another machine's. */
const modelId = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/, 'only the id of a model can be queued');

/**
 * What lies on a queue: one reading, as any machine with the same shared folder can do it. What comes from a queue may have
 * been put there by anybody: it names no code to run, and no file outside the shared folder.
 */
export const queueJobSchema = z.strictObject({
  schema: z.literal(QUEUE_JOB_SCHEMA),
  /** Of the recording's content when it was submitted. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  job: readJobSchema.omit({ writers: true }).extend({ folder: z.string().min(1), model: modelId.optional() }),
});
export type QueueJob = z.infer<typeof queueJobSchema>;

/**
 * Makes of a job what can lie on a queue.
 *
 * @param root The shared folder, as this machine sees it.
 * @throws PersonError where a file is outside of it, or the job needs something of this machine.
 */
export async function toQueueJob(job: ReadJob, sha256: string, root: string): Promise<QueueJob> {
  const { writers, ...rest } = job;
  if (writers && writers.length > 0)
    throw new PersonError(
      'A writer of your own is never sent to other machines: leave --writer out, and use it with "critsheet write".',
    );
  if (job.model !== undefined && !modelId.safeParse(job.model).success)
    throw new PersonError(
      `The model ${job.model} is a folder of this machine: give the id of a model that all have, as "critsheet models" lists them.`,
    );
  const relative: Record<string, string> = {};
  for (const key of PATHS) {
    const path = job[key];
    if (typeof path === 'string') relative[key] = await pathInside(root, path);
  }
  return queueJobSchema.parse({ schema: QUEUE_JOB_SCHEMA, sha256, job: { ...rest, ...relative } });
}

/**
 * Reads what lay on a queue, and makes its paths those of this machine.
 *
 * @throws PersonError where it is no job of critsheet's, or leads out of the shared folder.
 */
export async function fromQueueJob(
  payload: unknown,
  root: string,
): Promise<{ job: ReadJob; sha256: string }> {
  const parsed = queueJobSchema.safeParse(payload);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const said = issue ? describeIssue(issue, queueJobSchema, payload) : 'it does not fit';
    throw new PersonError(`What lies on the queue is no job of this version of critsheet: ${said}.`);
  }
  const { job, sha256 } = parsed.data;
  const whole: Record<string, string> = {};
  for (const key of PATHS) {
    const path = job[key];
    if (path !== undefined) whole[key] = await wholePath(root, path);
  }
  return { job: { ...job, ...whole }, sha256 };
}
