import { join } from 'node:path';
import { z } from 'zod';
import { PersonError } from '../basics/problem.ts';
import { ENGLISH, NUMBERS_FILE, readWordTable } from './language.ts';
import { readNumberWords } from './numbers.ts';

/** The table's file name without its ending. */
export const HEARD_NUMBERS = 'heard-numbers';

const MARK = /^(?:[^_]* )?_(?: [^_]*)?$/;
const pattern = z
  .string()
  .regex(MARK, 'has "_" once where the word stands, and words beside it, as in "_ frames"');
const homophoneSchema = z.strictObject({
  says: z.string().min(1),
  heard: z.array(z.string().min(1)).min(1),
  among: z.array(pattern).min(1),
  unless: z.array(pattern).default([]),
  yes: z.string().min(1),
  no: z.string().min(1),
});
/** A number word, what is heard for it, and the words that tell the two apart; `yes` is mended and `no` is not. */
export type Homophone = z.infer<typeof homophoneSchema>;

/** What is needed to hear numbers right, as plain data. */
export interface HeardNumbers {
  readonly homophones: readonly Homophone[];
  /** Every word that can be a number or a part of one. */
  readonly words: readonly string[];
}

/**
 * The number words of a language, and what they are heard as.
 *
 * @param folder A language's folder.
 * @throws PersonError where its table is damaged; the message names the entry and the mend.
 */
export function readHeardNumbers(folder: string = ENGLISH): HeardNumbers {
  const parsed = z.array(homophoneSchema).safeParse(readWordTable(folder, HEARD_NUMBERS));
  if (parsed.success) {
    const { digits, teens, tens, scales } = readNumberWords(join(folder, NUMBERS_FILE));
    return { homophones: parsed.data, words: [digits, teens, tens, scales].flatMap(Object.keys) };
  }
  const [issue] = parsed.error.issues;
  const [entry, ...place] = issue?.path ?? [];
  const where = typeof entry === 'number' ? `entry ${entry + 1}` : 'the file';
  const line = place.length > 0 ? `, ${place.join(' ')}` : '';
  throw new PersonError(`${HEARD_NUMBERS}.yaml, ${where}${line}: ${issue?.message ?? 'is damaged'}`);
}
