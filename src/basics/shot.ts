import { z } from 'zod';

/** A character of the shot and the words a mentor may use for it: name, role, pronouns. */
export const characterSchema = z.strictObject({
  name: z.string().min(1),
  words: z.array(z.string().min(1)).default([]),
});
export type Character = z.infer<typeof characterSchema>;

/**
 * The shot under review. Frames are shot frame numbers, both ends included; `last` is null where nobody said how long the
 * shot is. `dialogue` holds the lines that are heard when the shot plays.
 */
export const shotSchema = z
  .strictObject({
    name: z.string().min(1).default('shot'),
    fps: z.number().positive().max(240).default(24),
    first: z.int().default(1),
    last: z.int().nullable().default(null),
    characters: z.array(characterSchema).default([]),
    dialogue: z.array(z.string()).default([]),
  })
  .refine((shot) => shot.last === null || shot.last >= shot.first, {
    error: 'the last frame comes before the first',
    path: ['last'],
  });
export type Shot = z.infer<typeof shotSchema>;
