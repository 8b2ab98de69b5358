import { z } from 'zod';
import { ROLES } from '../basics/terms.ts';

export const REPAIR_KINDS = ['filler', 'repeat', 'restart', 'correction'] as const;

/** Words that a speaker took back while speaking. Marked, never deleted: indices into the transcript's words. */
export const repairSchema = z.looseObject({
  kind: z.enum(REPAIR_KINDS),
  firstWord: z.int().nonnegative(),
  lastWord: z.int().nonnegative(),
});
export type Repair = z.infer<typeof repairSchema>;

/** A stretch of speech that says one thing. `firstWord` and `lastWord` are indices into the transcript's words, both included. */
export const statementSchema = z.looseObject({
  id: z.string(),
  start: z.number(),
  end: z.number(),
  text: z.string(),
  role: z.enum(ROLES),
  /** How sure the role is, 0 to 1. */
  confidence: z.number().min(0).max(1),
  firstWord: z.int().nonnegative(),
  lastWord: z.int().nonnegative(),
  /** How likely it is, 0 to 1, that it opens a new point rather than going on with the one before, told from the talk alone. */
  opening: z.number().min(0).max(1).default(0),
  repairs: z.array(repairSchema).default([]),
});
export type Statement = z.infer<typeof statementSchema>;
