import { basename } from 'node:path';
import type { Command } from 'commander';
import type { Surroundings } from './screen.ts';

/** `critsheet explain`: why one note of a sheet reads as it does. */
export function addExplain(program: Command, surroundings: Surroundings): void {
  program
    .command('explain')
    .summary('say why a note reads as it does')
    .description(
      'Prints the words of one note, what the lexicons found in them and by which phrase, and how sure each tag is.',
    )
    .argument('<sheet>', 'a .sheet.json file')
    .argument('<note>', "the note's id, as n3, or its rank, as 2")
    .option('--verbose', 'show the stack of an error')
    .action((path: string, name: string) => explain(path, name, surroundings));
}

async function explain(path: string, name: string, { screen }: Surroundings): Promise<void> {
  const { PersonError } = await import('../basics/problem.ts');
  const { loadSheet } = await import('../files/sheet-file.ts');
  const sheet = await loadSheet(path);
  const note = sheet.notes.find(({ id, rank }) => id === name || `${rank}` === name);
  if (!note) {
    const known = sheet.notes.map(({ id }) => id).join(', ') || 'none';
    throw new PersonError(`${basename(path)} has no note ${name}: it has ${known}.`);
  }
  const { loadLanguage } = await import('../language/language.ts');
  const { explainNote } = await import('../sheet/explain-note.ts');
  screen.print(explainNote(sheet, note, loadLanguage()).join('\n'));
}
