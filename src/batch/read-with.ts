import { z } from 'zod';
import { sha256OfFile } from '../transcript/models/manifest.ts';
import type { ReadJob } from './read-job.ts';

const sha256 = z.string();
const number = z.number();

/**
 * What a recording was read with, where that changes the sheet and nothing else in the sheet tells of it: files by the
 * checksum of their content. It stands in the sheet as `readWith`, so that a later run sees whether it would read alike.
 */
const readWithSchema = z.looseObject({
  glossary: sha256.optional(),
  shotSound: sha256.optional(),
  playhead: sha256.optional(),
  previous: sha256.optional(),
  ticks: sha256.optional(),
  counter: z
    .union([z.literal('find'), z.looseObject({ x: number, y: number, width: number, height: number })])
    .optional(),
});
export type ReadWith = z.infer<typeof readWithSchema>;

const FILES = ['glossary', 'shotSound', 'playhead', 'previous', 'ticks'] as const;

/**
 * What a job reads with.
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

/** What a sheet says of it in its `readWith`; nothing where that is missing, as in one that was read without any of these. */
export function readWithFrom(readWith: unknown): ReadWith {
  return readWithSchema.safeParse(readWith).data ?? {};
}
