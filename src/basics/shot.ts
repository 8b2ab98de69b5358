import { z } from 'zod';

/** A character of the shot and the words a mentor may use for it: name, role, pronouns. */
export const characterSchema = z.strictObject({
  name: z.string().min(1),
  words: z.array(z.string().min(1)).default([]),
});
export type Character = z.infer<typeof characterSchema>;

const fields = {
  name: z.string().min(1),
  fps: z.number().positive().max(240),
  first: z.int(),
  last: z.int().nullable(),
  characters: z.array(characterSchema),
  dialogue: z.array(z.string()),
};

/**
 * The shot under review. Frames are shot frame numbers, both ends included; `last` is null where nobody said how long the
 * shot is. `dialogue` holds the lines that are heard when the shot plays.
 */
export const shotSchema = z
  .strictObject({
    name: fields.name.default('shot'),
    fps: fields.fps.default(24),
    first: fields.first.default(1),
    last: fields.last.default(null),
    characters: fields.characters.default([]),
    dialogue: fields.dialogue.default([]),
  })
  .refine((shot) => shot.last === null || shot.last >= shot.first, {
    error: 'the last frame comes before the first',
    path: ['last'],
  });
export type Shot = z.infer<typeof shotSchema>;

/** What is known of a shot where any part may be left out, for another source to give. */
export const knownShotSchema = z.strictObject(fields).partial();
export type KnownShot = z.infer<typeof knownShotSchema>;
