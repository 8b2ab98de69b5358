import { z } from 'zod';
import { passSchema } from '../basics/pass.ts';
import { characterSchema } from '../basics/shot.ts';
import { ROLES } from '../basics/terms.ts';
import { noteSchema } from '../notes/note.ts';
import { modelRefSchema, recordingRefSchema, wordSchema } from '../transcript/transcript.ts';
import { previousSchema } from './previous.ts';
import { readWithSchema } from './read-with.ts';

export const SHEET_SCHEMA = 'critsheet/1';

/** What a sheet keeps of a statement: enough to show every word said, its role, and the note it went into. */
export const sheetStatementSchema = z.looseObject({
  id: z.string(),
  start: z.number(),
  end: z.number(),
  text: z.string(),
  role: z.enum(ROLES),
  confidence: z.number().min(0).max(1),
  note: z.string().nullable(),
});

/** The whole result for one recording. Times are seconds of the recording, frames are shot frames, both ends included. */
export const sheetSchema = z.looseObject({
  schema: z.literal(SHEET_SCHEMA),
  recording: recordingRefSchema,
  shot: z.looseObject({
    name: z.string(),
    fps: z.number().positive(),
    first: z.number(),
    last: z.number().nullable(),
    characters: z.array(characterSchema.loose()),
    dialogue: z.array(z.string()),
  }),
  model: modelRefSchema,
  /** Where the shot stood while it was recorded, where its sound, a log or a counter tells. */
  passes: z.array(passSchema).optional(),
  words: z.array(wordSchema),
  statements: z.array(sheetStatementSchema),
  notes: z.array(noteSchema),
  /** What the machine read, where a person corrected it since: words by their place in `words`, the other lists whole. */
  uncorrected: z
    .looseObject({
      words: z.record(z.string(), wordSchema),
      statements: z.array(sheetStatementSchema),
      notes: z.array(noteSchema),
    })
    .optional(),
  /** What became of the notes of the sheet before this one, where that sheet was given. */
  previous: previousSchema.optional(),
  /** What it was read with, beside the recording, the model and the shot; missing where there was nothing. */
  readWith: readWithSchema.optional(),
});
export type Sheet = z.infer<typeof sheetSchema>;
export type SheetStatement = z.infer<typeof sheetStatementSchema>;
