import type { ReadWith } from '../sheet/read-with.ts';
import { sha256OfFile } from '../transcript/models/manifest.ts';
import type { ReadJob } from './read-job.ts';

const FILES = ['glossary', 'shotSound', 'playhead', 'previous', 'ticks'] as const;

/**
 * What a job reads with. It stands in the sheet as `readWith`, so that a later run sees whether it would read alike.
 *
 * @throws The system's error where a file of it cannot be read.
 */
export async function readWithOf(job: ReadJob): Promise<ReadWith> {
  const readWith: ReadWith = {};
  for (const key of FILES) {
    const path = job[key];
    if (path !== undefined) readWith[key] = await sha256OfFile(path);
  }
  if (job.counter !== undefined) readWith.counter = job.counter;
  return readWith;
}
