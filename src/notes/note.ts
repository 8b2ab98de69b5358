import { z } from 'zod';
import { AMOUNT_ACTIONS, AMOUNT_UNITS, BASES, ISSUES, PARTS, SIDES, STRENGTHS } from '../basics/terms.ts';

const confidence = z.number().min(0).max(1);

/** Shot frames, both ends included, and how they are known. */
export const framesSchema = z.looseObject({
  first: z.number(),
  last: z.number(),
  source: z.enum(['spoken', 'playback', 'neighbour']),
  confidence,
});
export type Frames = z.infer<typeof framesSchema>;

/** A change the mentor put a number to: "three or four more frames" is 3 to 4, frames, add. */
export const amountSchema = z.looseObject({
  min: z.number(),
  max: z.number(),
  unit: z.enum(AMOUNT_UNITS),
  what: z.enum(AMOUNT_ACTIONS),
});
export type Amount = z.infer<typeof amountSchema>;

export const bodySchema = z.looseObject({ part: z.enum(PARTS), side: z.enum(SIDES).nullable() });
export type BodyPart = z.infer<typeof bodySchema>;

/** The words a note was made from, with their times in the recording. */
export const quoteSchema = z.looseObject({ start: z.number(), end: z.number(), text: z.string() });
export type Quote = z.infer<typeof quoteSchema>;

/** One thing to change, or one thing to leave alone. */
export const noteSchema = z.looseObject({
  id: z.string(),
  /** 1 is first. Fixes come before keeps, keeps before what was taken back. */
  rank: z.int().positive(),
  title: z.string(),
  role: z.enum(['fix', 'keep']),
  basis: z.enum(BASES),
  strength: z.enum(STRENGTHS),
  character: z.string().nullable(),
  body: z.array(bodySchema),
  issue: z.enum(ISSUES).nullable(),
  issueAlternatives: z.array(z.enum(ISSUES)),
  frames: framesSchema.nullable(),
  amount: amountSchema.nullable(),
  /** The ways out that the mentor offered, in their words; empty where only one was. */
  options: z.array(z.string()),
  withdrawn: z.boolean(),
  /** How often the mentor came to the point. */
  mentions: z.int().positive(),
  spans: z.array(quoteSchema),
  priority: z.looseObject({ score: z.number(), reasons: z.array(z.string()) }),
  confidence: z.looseObject({
    role: confidence,
    issue: confidence,
    body: confidence,
    basis: confidence,
    strength: confidence,
    frames: confidence,
  }),
  /** What a person should look at, in plain words; empty where nobody need look. */
  check: z.array(z.string()),
});
export type Note = z.infer<typeof noteSchema>;
