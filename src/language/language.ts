import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PersonError } from '../basics/problem.ts';
import { type ChainModel, chainModelSchema } from './chain-model.ts';
import type { Lexicon } from './lexicon.ts';
import { NumberReader, readNumberWords } from './numbers.ts';
import { readLexiconFolder } from './read-lexicons.ts';

/** Everything that is known of one language. Read once; the stages only look things up in it. */
export interface Language {
  readonly numbers: NumberReader;
  /** By file name without its ending, `issues/pop` for a file in a folder. */
  readonly lexicons: ReadonlyMap<string, Lexicon>;
  /** Fitted weights, by file name without its ending. */
  readonly models: ReadonlyMap<string, ChainModel>;
  /** Fitted tables that are no chain models, by file name without its ending; whoever uses one checks its form. */
  readonly tables: ReadonlyMap<string, unknown>;
  /** The folder it was read from, for the word tables that single finders read for themselves. */
  readonly folder: string;
}

const NUMBERS_FILE = 'numbers.yaml';
/** Tables that are no lists of phrases and are read by those who use them. */
const TABLES = new Set(['numbers', 'titles', 'frame-words']);

/** The folder of the one language that there is today. */
export const ENGLISH = fileURLToPath(new URL('../lexicons/en', import.meta.url));

/** Reads a language's folder. @throws PersonError where a lexicon is damaged; the message names file and entry. */
export function loadLanguage(folder: string = ENGLISH): Language {
  if (!existsSync(join(folder, NUMBERS_FILE))) {
    throw new PersonError(`${folder} holds no lexicons: ${NUMBERS_FILE} is missing`);
  }
  const numbers = new NumberReader(readNumberWords(join(folder, NUMBERS_FILE)));
  const lexicons = new Map<string, Lexicon>();
  for (const entry of ['.', 'issues']) {
    const path = join(folder, entry);
    if (!existsSync(path)) continue;
    const prefix = entry === '.' ? '' : `${entry}/`;
    for (const [name, lexicon] of readLexiconFolder(path, prefix, numbers.isNumber, TABLES)) lexicons.set(name, lexicon);
  }
  const fitted = readFitted(join(folder, 'models'));
  return {
    numbers,
    lexicons,
    models: new Map(fitted.filter(([name]) => name.endsWith(CHAIN)).map(([name, data]) => [basename(name, CHAIN), chainModelSchema.parse(data)])),
    tables: new Map(fitted.filter(([name]) => !name.endsWith(CHAIN))),
    folder,
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
