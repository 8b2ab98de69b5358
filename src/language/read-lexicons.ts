import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseDocument } from 'yaml';
import { z } from 'zod';
import { messageOf, PersonError } from '../basics/problem.ts';
import { entrySchema, Lexicon } from './lexicon.ts';
import type { IsNumber } from './phrase.ts';

/**
 * Reads one lexicon file. YAML's failsafe schema is used: the others turn `on`, `12:30` and `042` into something else.
 * @throws PersonError that names the file, the entry and the mend.
 */
export function readLexicon(path: string, isNumber: IsNumber, name: string = basename(path, '.yaml')): Lexicon {
  const file = basename(path);
  const document = parseDocument(readFileSync(path, 'utf8'), { schema: 'failsafe' });
  const [mistake] = document.errors;
  if (mistake) throw new PersonError(`${file} is not YAML: ${mistake.message.split('\n')[0]}`);
  const entries = z.array(z.unknown()).safeParse(document.toJS());
  if (!entries.success) throw new PersonError(`${file} must be a list of entries, each beginning with "- says:"`);
  const read = entries.data.map((entry, index) => {
    const parsed = entrySchema.safeParse(entry);
    if (parsed.success) return parsed.data;
    const [issue] = parsed.error.issues;
    throw new PersonError(
      `${file}, entry ${index + 1}: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}; an entry has says, also, means, yes and no`,
    );
  });
  try {
    return new Lexicon(name, read, isNumber);
  } catch (error) {
    throw new PersonError(`${file}: ${messageOf(error)}`);
  }
}

/** Every .yaml file of a folder but those to leave out, by its name without the ending and with a prefix, in the order of names. */
export function readLexiconFolder(
  folder: string,
  prefix: string,
  isNumber: IsNumber,
  leaveOut: ReadonlySet<string> = new Set(),
): Map<string, Lexicon> {
  const names = readdirSync(folder)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => basename(file, '.yaml'))
    .filter((name) => !leaveOut.has(name))
    .sort();
  return new Map(
    names.map((name) => [`${prefix}${name}`, readLexicon(join(folder, `${name}.yaml`), isNumber, `${prefix}${name}`)]),
  );
}
