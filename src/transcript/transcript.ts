import { z } from 'zod';

/**
 * One heard word. Times are seconds of the recording; `confidence` is 0 to 1. Where `heard` is a text, the recogniser wrote
 * that, and the word that sounds like it was listened for; where a person mended the word, it holds what stood there.
 */
export const wordSchema = z.looseObject({
  text: z.string().min(1),
  start: z.number().nonnegative(),
  end: z.number().nonnegative(),
  confidence: z.number().min(0).max(1),
});
export type Word = z.infer<typeof wordSchema>;

/** Which file was read: its name without folders, its SHA-256 in hex, its length in seconds. */
export const recordingRefSchema = z.looseObject({
  file: z.string(),
  sha256: z.string(),
  duration: z.number().nonnegative(),
});
export type RecordingRef = z.infer<typeof recordingRefSchema>;

/** Which recogniser made the words; `sha256` is null where the words were read from a caption file. */
export const modelRefSchema = z.looseObject({ id: z.string(), sha256: z.string().nullable() });
export type ModelRef = z.infer<typeof modelRefSchema>;

/** What was said, word by word, in the order of time. */
export const transcriptSchema = z.looseObject({
  schema: z.literal('critsheet-transcript/1'),
  recording: recordingRefSchema,
  model: modelRefSchema,
  words: z.array(wordSchema),
});
export type Transcript = z.infer<typeof transcriptSchema>;
