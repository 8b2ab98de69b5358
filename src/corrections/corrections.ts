import { z } from 'zod';
import { parseRecord } from '../basics/json-record.ts';
import { PersonError } from '../basics/problem.ts';
import { BASES, ISSUES, STRENGTHS } from '../basics/terms.ts';
import { amountSchema, bodySchema } from '../notes/note.ts';

export const CORRECTIONS_SCHEMA = 'critsheet-corrections/1';

const spanSchema = z.looseObject({ start: z.number().nonnegative(), end: z.number().nonnegative() });

/** Which note is meant: by the words it was made of, because another reading gives other ids and titles. */
const noteAnchorSchema = z.looseObject({
  id: z.string(),
  title: z.string(),
  spans: z.array(spanSchema).min(1),
});
export type NoteAnchor = z.infer<typeof noteAnchorSchema>;

/** Words of the recording, and how they were heard when the decision was made. */
const wordsAnchorSchema = spanSchema.extend({ text: z.string() });

/** What a person can set of a note; a field that is left out stays as it was read. */
export const fieldsSchema = z
  .strictObject({
    title: z.string().trim().min(1).max(300),
    role: z.enum(['fix', 'keep']),
    basis: z.enum(BASES),
    strength: z.enum(STRENGTHS),
    character: z.string().max(200).nullable(),
    body: z.array(bodySchema).max(40),
    issue: z.enum(ISSUES).nullable(),
    frames: z.looseObject({ first: z.int(), last: z.int() }).nullable(),
    amount: amountSchema.nullable(),
    options: z.array(z.string().trim().min(1)).max(20),
    withdrawn: z.boolean(),
  })
  .partial();
export type Fields = z.infer<typeof fieldsSchema>;

const stepSchema = z.discriminatedUnion('do', [
  z.looseObject({ do: z.literal('set'), note: noteAnchorSchema, fields: fieldsSchema }),
  /** The note is right as it was read. */
  z.looseObject({ do: z.literal('settle'), note: noteAnchorSchema }),
  z.looseObject({ do: z.literal('word'), word: wordsAnchorSchema, text: z.string().trim().min(1).max(200) }),
  /** What the note says from second `from` on becomes a note of its own. */
  z.looseObject({ do: z.literal('split'), note: noteAnchorSchema, from: z.number().nonnegative() }),
  z.looseObject({ do: z.literal('join'), note: noteAnchorSchema, with: noteAnchorSchema }),
  z.looseObject({ do: z.literal('drop'), note: noteAnchorSchema }),
  z.looseObject({ do: z.literal('add'), words: wordsAnchorSchema, role: z.enum(['fix', 'keep']) }),
  z.looseObject({ do: z.literal('undo'), decision: z.string() }),
]);

export const decisionSchema = z
  .looseObject({ id: z.string().min(8).max(64), at: z.string().max(40) })
  .and(stepSchema);
/** One thing a person decided, with an id of its own and the time it was decided (ISO 8601). */
export type Decision = z.infer<typeof decisionSchema>;
export type Step = z.infer<typeof stepSchema>;

export const correctionsSchema = z.looseObject({
  schema: z.literal(CORRECTIONS_SCHEMA),
  recording: z.looseObject({ file: z.string(), sha256: z.string() }),
  /** Counts the saves. */
  revision: z.int().nonnegative(),
  /** In the order in which they were made; none is ever taken out, undoing is a decision too. */
  decisions: z.array(decisionSchema),
});
/** What a person changed of a sheet, apart from what the machine made. */
export type Corrections = z.infer<typeof correctionsSchema>;

/**
 * Reads corrections from the text of their file.
 *
 * @param file The name that messages give.
 * @throws PersonError that says what is wrong and what to do.
 */
export function readCorrections(text: string, file: string): Corrections {
  const advice = 'Mend it, or move it away to begin anew: nothing writes over it.';
  const kind = { what: 'a file of corrections', advice };
  const label = parseRecord(text, file, z.looseObject({ schema: z.unknown() }), kind).schema;
  if (label !== CORRECTIONS_SCHEMA) {
    throw new PersonError(
      `${file} is marked ${JSON.stringify(label)}, and this version reads "${CORRECTIONS_SCHEMA}". ${advice}`,
    );
  }
  return parseRecord(text, file, correctionsSchema, kind);
}
