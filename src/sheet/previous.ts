import { z } from 'zod';
import { noteSchema, quoteSchema } from '../notes/note.ts';

/** What a new recording says of a note of the one before. */
export const VERDICTS = ['done', 'still-there', 'taken-back', 'not-mentioned'] as const;
export type Verdict = (typeof VERDICTS)[number];

export const carriedNoteSchema = z.looseObject({
  /** The note as it stood in the sheet of the older recording, its id and rank among them. */
  note: noteSchema,
  verdict: z.enum(VERDICTS),
  /** How sure the verdict is, 0 to 1. */
  confidence: z.number().min(0).max(1),
  /** In how many recordings it was asked for by now, the new one included where it is still there. */
  asked: z.int().positive(),
  /** The id of the new note that asks for it again or takes it back; null where none does. */
  newNote: z.string().nullable(),
  /** The words of the new recording that say so. */
  said: z.array(quoteSchema),
  /** Why, in plain words. */
  reasons: z.array(z.string()),
  /** When the animator ticked it off, ISO 8601; null where they did not. */
  ticked: z.string().nullable(),
});
/** An old note and what became of it. */
export type CarriedNote = z.infer<typeof carriedNoteSchema>;

export const previousSchema = z.looseObject({
  recording: z.looseObject({ file: z.string(), sha256: z.string() }),
  shot: z.string(),
  /** Every fix that stood open before, in the order of the older sheet. */
  notes: z.array(carriedNoteSchema),
  /** The ids of the fixes that no older note asks for. */
  fresh: z.array(z.string()),
});
/** What a sheet says of the sheet before it. */
export type Previous = z.infer<typeof previousSchema>;
