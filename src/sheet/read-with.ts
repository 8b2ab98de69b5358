import { z } from 'zod';

const sha256 = z.string();
const number = z.number();

/**
 * What a recording was read with, where that changes the sheet and nothing else in the sheet tells of it: files by the
 * checksum of their content.
 */
export const readWithSchema = z.looseObject({
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
