import type { Command } from 'commander';
import type { LexiconFault } from '../language/check-lexicons.ts';
import type { Surroundings } from './screen.ts';

/** `critsheet words`: tries the lexicons, for whoever edits them. */
export function addWords(program: Command, surroundings: Surroundings): void {
  program
    .command('words')
    .summary('check the words critsheet knows')
    .description(
      'Checks the lexicons and tries the yes and no sentence of every entry. Prints each that fails, and exits 1 where any does.',
    )
    .option('--folder <folder>', 'a folder of lexicons (default: those that come with critsheet)')
    .option('--verbose', 'show the stack of an error')
    .action((options: { folder?: string }) => checkWords(options.folder, surroundings));
}

async function checkWords(folder: string | undefined, { screen }: Surroundings): Promise<void> {
  const { ENGLISH, lexiconFiles, loadLanguage, loadNumbers } = await import('../language/language.ts');
  const { checkLexicon, phrasesOf } = await import('../language/check-lexicons.ts');
  const { readEntries } = await import('../language/read-lexicons.ts');
  const { PersonError } = await import('../basics/problem.ts');
  const { counted } = await import('../sheet/counted.ts');
  const path = folder ?? ENGLISH;
  const lexicons = lexiconFiles(path).map((file) => ({ name: file.name, entries: readEntries(file.path) }));
  const { isNumber } = loadNumbers(path);
  // The tables beside the lexicons are tried too, so that "all hold" is true of the whole folder.
  const numbers = (await import('../language/heard-numbers.ts')).readHeardNumbers(path);
  const { homophoneFaults } = await import('../transcript/glossary/homophone-faults.ts');
  const faults = [
    ...lexicons.flatMap((lexicon) => checkLexicon(lexicon, isNumber)),
    ...homophoneFaults(numbers).map((fault) => ({ ...fault, lexicon: 'heard-numbers' })),
  ];
  const entries = lexicons.flatMap((lexicon) => lexicon.entries);
  const checked = [
    counted(lexicons.length, 'lexicon'),
    counted(entries.length, 'entry', 'entries'),
    counted(entries.flatMap(phrasesOf).length, 'phrase'),
  ].join(', ');
  if (faults.length > 0) {
    screen.print(faults.map(faultText).join('\n'));
    const entriesAtFault = new Set(faults.map(({ lexicon, entry }) => `${lexicon}\n${entry}`)).size;
    throw new PersonError(
      `${checked} checked, and ${counted(faults.length, 'fault')} found in ${counted(entriesAtFault, 'entry', 'entries')}: mend each line above, or the sentence that tries it.`,
    );
  }
  loadLanguage(path);
  (await import('../language/listened-words.ts')).readListenedWords(path);
  screen.print(`${checked}: all hold.`);
}

type Fault = Pick<LexiconFault, 'lexicon' | 'entry' | 'line' | 'text' | 'message'>;

function faultText({ lexicon, entry, line, text, message }: Fault): string {
  return `${lexicon}.yaml, entry "${entry}": ${line} "${text}": ${message}`;
}
