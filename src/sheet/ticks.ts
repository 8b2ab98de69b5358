import { z } from 'zod';
import { parseRecord } from '../basics/json-record.ts';

export const TICKS_SCHEMA = 'critsheet-ticks/1';

/** Which notes an animator has done, as the page saves them. */
export const ticksSchema = z.looseObject({
  schema: z.literal(TICKS_SCHEMA),
  /** The recording that the sheet was made from. */
  recording: z.looseObject({ file: z.string(), sha256: z.string() }),
  shot: z.string(),
  done: z.array(
    z.looseObject({
      /** The note's id in the sheet that the page was made from. */
      note: z.string(),
      title: z.string(),
      /** Seconds of the recording at which the note's words begin: holds where a new reading gives other ids. */
      start: z.number(),
      /** When it was ticked, ISO 8601. */
      at: z.string(),
    }),
  ),
});
export type Ticks = z.infer<typeof ticksSchema>;

/**
 * Reads the ticks that an animator's page saved.
 *
 * @param file The name that messages give.
 * @throws PersonError that says what is wrong and what to do.
 */
export function readTicks(text: string, file: string): Ticks {
  const advice = 'Give the .ticks.json file that the page saved.';
  return parseRecord(text, file, ticksSchema, { what: 'a file of ticks', advice });
}
