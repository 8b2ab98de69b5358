import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { messageOf, PersonError } from '../basics/problem.ts';
import { type ChainModel, chainModelSchema } from './chain-model.ts';
import type { Lexicon } from './lexicon.ts';
import { NumberReader, readNumberWords } from './numbers.ts';
import { lexiconNames, readLexicon } from './read-lexicons.ts';

/** Everything that is known of one language. Read once; the stages only look things up in it. */
export interface Language {
  readonly numbers: NumberReader;
  /** By file name without its ending, `issues/pop` for a file in a folder. */
  readonly lexicons: ReadonlyMap<string, Lexicon>;
  /** Fitted weights, by file name without its ending. */
  readonly models: ReadonlyMap<string, ChainModel>;
  /** Word tables and fitted tables, by file name without its ending; whoever uses one checks its form. */
  readonly tables: ReadonlyMap<string, unknown>;
}

/** The table of number words. */
export const NUMBERS_FILE = 'numbers.yaml';
/** Files that are tables and no lists of phrases. */
const WORD_TABLES = ['titles', 'frame-words', 'glossary', 'heard-numbers'];
const NO_LEXICONS = new Set([basename(NUMBERS_FILE, '.yaml'), ...WORD_TABLES]);

/** The folder of the one language that there is today. */
export const ENGLISH = fileURLToPath(new URL('../lexicons/en', import.meta.url));

/**
 * Where the lexicons of a language's folder lie, by name: its own .yaml files in their order, then those of issues.
 *
 * @throws PersonError where the folder is none of a language.
 */
export function lexiconFiles(folder: string): { readonly name: string; readonly path: string }[] {
  if (!existsSync(join(folder, NUMBERS_FILE))) {
    throw new PersonError(`${folder} holds no lexicons: ${NUMBERS_FILE} is missing`);
  }
  return ['', 'issues/'].flatMap((prefix) => {
    const path = join(folder, prefix);
    if (!existsSync(path)) return [];
    return lexiconNames(path, NO_LEXICONS).map((name) => ({
      name: `${prefix}${name}`,
      path: join(path, `${name}.yaml`),
    }));
  });
}

/** How the language of a folder says numbers. */
export function loadNumbers(folder: string): NumberReader {
  return new NumberReader(readNumberWords(join(folder, NUMBERS_FILE)));
}

/** Reads a language's folder. @throws PersonError where a lexicon is damaged; the message names file and entry. */
export function loadLanguage(folder: string = ENGLISH): Language {
  const files = lexiconFiles(folder);
  const numbers = loadNumbers(folder);
  const lexicons = new Map(files.map(({ name, path }) => [name, readLexicon(path, numbers.isNumber, name)]));
  const fitted = readFitted(join(folder, 'models'));
  return {
    numbers,
    lexicons,
    models: new Map(
      fitted
        .filter(([name]) => name.endsWith(CHAIN))
        .map(([name, data]) => [basename(name, CHAIN), chainModelSchema.parse(data)]),
    ),
    tables: new Map([...readWordTables(folder), ...fitted.filter(([name]) => !name.endsWith(CHAIN))]),
  };
}

const CHAIN = '.chain';

/** Every .json of a folder by its name without the ending; none where the folder is not there yet. */
function readFitted(folder: string): [name: string, data: unknown][] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith('.json'))
    .map((file) => [basename(file, '.json'), JSON.parse(readFileSync(join(folder, file), 'utf8'))]);
}

function readWordTables(folder: string): [name: string, data: unknown][] {
  return WORD_TABLES.map((name) => [name, readWordTable(folder, name)]);
}

/**
 * A file of a language's folder that is a table and no list of phrases; whoever uses it checks its form.
 *
 * @throws PersonError where it is missing or no YAML.
 */
export function readWordTable(folder: string, name: string): unknown {
  const path = join(folder, `${name}.yaml`);
  if (!existsSync(path)) throw new PersonError(`${folder} lacks ${name}.yaml`);
  try {
    return parse(readFileSync(path, 'utf8'), { schema: 'failsafe' });
  } catch (error) {
    throw new PersonError(`${name}.yaml is not YAML: ${messageOf(error).split('\n')[0]}`, { cause: error });
  }
}
