import { z } from 'zod';
import { PersonError } from '../basics/problem.ts';
import { ENGLISH, readWordTable } from './language.ts';

/** The table's file name without its ending. */
export const GLOSSARY = 'glossary';

const glossarySchema = z.array(
  z.strictObject({ about: z.string().min(1), words: z.array(z.string().min(1)).min(1) }),
);

/**
 * The words and phrases of the trade that a recogniser listens for, each once.
 *
 * @param folder A language's folder.
 * @throws PersonError where its glossary is damaged; the message names the entry and the mend.
 */
export function readListenedWords(folder: string = ENGLISH): string[] {
  const parsed = glossarySchema.safeParse(readWordTable(folder, GLOSSARY));
  if (parsed.success) return [...new Set(parsed.data.flatMap(({ words }) => words))];
  const [issue] = parsed.error.issues;
  const entry = typeof issue?.path[0] === 'number' ? `entry ${issue.path[0] + 1}` : 'the file';
  throw new PersonError(
    `${GLOSSARY}.yaml, ${entry}: ${issue?.message ?? 'is damaged'}; an entry has "about" and a list of "words"`,
  );
}
