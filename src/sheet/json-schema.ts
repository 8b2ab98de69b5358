import { z } from 'zod';
import { sheetSchema } from './sheet.ts';

/**
 * The sheet's form as JSON Schema (draft 2020-12), for programs in any language: made from the schema that critsheet itself
 * reads by, so that the two cannot differ. Keys that it does not name are allowed, because later versions add some.
 */
export function sheetJsonSchema(): Record<string, unknown> {
  const made = z.toJSONSchema(sheetSchema, { io: 'input' });
  return {
    ...made,
    title: 'critsheet/1',
    description:
      'What a recorded animation critique asks for. Times are seconds of the recording, frames are shot frames, both ends included.',
  };
}
