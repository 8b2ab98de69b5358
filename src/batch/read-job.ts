import { z } from 'zod';
import { knownShotSchema } from '../basics/shot.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';

const path = z.string().min(1);
const pixels = z.int().min(0);

/**
 * One recording to read and its files to write, as plain JSON: it can be done in this process, in a worker thread or by
 * another machine that sees the same folders. Paths that are not absolute count from the working folder of whoever does it.
 */
export const readJobSchema = z.strictObject({
  /** Sound, a video, captions, or a saved transcript. */
  recording: path,
  /** The folder for the files; null writes none. */
  folder: path.nullable(),
  /** What is written beside `json` and `md`. */
  formats: z.array(z.enum(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS))).default([]),
  /** Modules with writers from outside, which a person named: their code is run. */
  writers: z.array(z.string().min(1)).optional(),
  /** What is known of the shot; where it is left out, the shot file beside the recording is looked for. */
  shotFile: path.optional(),
  /** A list of words that are listened for beside those of the trade and the shot. */
  glossary: path.optional(),
  /** What is known of the shot where its file says nothing. */
  shotDefaults: knownShotSchema.optional(),
  /** What tells where the shot stood: as in the pipeline's PassSources. */
  shotSound: path.optional(),
  playhead: path.optional(),
  counter: z
    .union([z.literal('find'), z.strictObject({ x: pixels, y: pixels, width: pixels, height: pixels })])
    .optional(),
  /** The sheet of the recording before, and what its page saved of the animator's ticks. */
  previous: path.optional(),
  ticks: path.optional(),
  /** A model of the catalogue, or the folder of one. */
  model: z.string().min(1).optional(),
  /** Whether what was kept of earlier readings is used, and what is dear to make is kept; it is where this is left out. */
  cache: z.boolean().optional(),
  /** With the format html: play the recording from where it lies; the shot's pictures. */
  linkSound: z.boolean().optional(),
  shotPicture: path.optional(),
});
export type ReadJob = z.infer<typeof readJobSchema>;

/** Every format that is written, each once. */
export function writtenFormats({ formats }: ReadJob): string[] {
  return [...new Set(['json', 'md', ...formats])];
}

/** What came of a job, as plain JSON. */
export const readResultSchema = z.strictObject({
  recording: path,
  /** Of the recording's content, as it was read. */
  sha256: z.string(),
  /** The sheet in a line. */
  summary: z.string(),
  /** The files, in the order of the formats. */
  written: z.array(z.string()),
  /** What a person should know, a sentence each, in the order it is told. */
  notices: z.array(z.string()),
  /** What the stages noticed and lived with; its messages are among the notices. */
  problems: z.array(z.object({ stage: z.string(), message: z.string() })),
});
export type ReadResult = z.infer<typeof readResultSchema>;
