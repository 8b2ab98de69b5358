import { readdirSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { parseDocument } from 'yaml';
import { z } from 'zod';
import { messageOf, PersonError } from '../basics/problem.ts';
import { type Entry, entrySchema, Lexicon } from './lexicon.ts';
import type { IsNumber } from './phrase.ts';

/**
 * Reads the entries of one lexicon file; their phrases are not looked into. YAML's failsafe schema is used: the others
 * turn `on`, `12:30` and `042` into something else.
 *
 * @throws PersonError that names the file, the entry and the mend.
 */
export function readEntries(path: string): Entry[] {
  const file = basename(path);
  const document = parseDocument(readFileSync(path, 'utf8'), { schema: 'failsafe' });
  const [mistake] = document.errors;
  if (mistake) throw new PersonError(`${file} is not YAML: ${mistake.message.split('\n')[0]}`);
  const entries = z.array(z.unknown()).safeParse(document.toJS());
  if (!entries.success)
    throw new PersonError(`${file} must be a list of entries, each beginning with "- says:"`);
  return entries.data.map((entry, index) => {
    const parsed = entrySchema.safeParse(entry);
    if (parsed.success) return parsed.data;
    const [issue] = parsed.error.issues;
    throw new PersonError(
      `${file}, entry ${index + 1}: ${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}; an entry has says, also, means, yes and no`,
    );
  });
}

/**
 * Reads one lexicon file.
 * @throws PersonError that names the file, the entry or phrase, and the mend.
 */
export function readLexicon(
  path: string,
  isNumber: IsNumber,
  name: string = basename(path, '.yaml'),
): Lexicon {
  const entries = readEntries(path);
  try {
    return new Lexicon(name, entries, isNumber);
  } catch (error) {
    throw new PersonError(`${basename(path)}: ${messageOf(error)}`);
  }
}

/** The .yaml files of a folder but those to leave out, without their ending, in the order of names. */
export function lexiconNames(folder: string, leaveOut: ReadonlySet<string>): string[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => basename(file, '.yaml'))
    .filter((name) => !leaveOut.has(name))
    .sort();
}
