import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';
import type { Surroundings } from './screen.ts';

interface CompareArguments {
  readonly ticks?: string;
  readonly json?: true;
}

/** The label of what `--json` prints. */
const COMPARISON_SCHEMA = 'critsheet-comparison/1';

/** `critsheet compare`: what the new recording says of the old notes. */
export function addCompare(program: Command, surroundings: Surroundings): void {
  program
    .command('compare')
    .summary('see what became of the notes of an older sheet')
    .description(
      'Holds the sheet of a new recording against that of an older one of the same shot: which old notes are done, still there, taken back or not mentioned, how sure that is and by which words, and which notes are new.',
    )
    .argument('<old>', 'the older .sheet.json file')
    .argument('<new>', 'the newer .sheet.json file')
    .option('--ticks <file>', "the .ticks.json file that the older sheet's page saved")
    .option('--json', 'print the comparison as JSON')
    .option('--verbose', 'show the stack of an error')
    .action((older: string, newer: string, options: CompareArguments) =>
      compare(older, newer, options, surroundings),
    );
}

async function compare(
  olderPath: string,
  newerPath: string,
  { ticks: ticksPath, json }: CompareArguments,
  { screen }: Surroundings,
): Promise<void> {
  const { loadOlderSheet } = await import('../files/older-sheet.ts');
  const { loadSheet } = await import('../files/sheet-file.ts');
  const { isSameRecording } = await import('../comparison/with-previous.ts');
  const { sheet: older, ticks } = await loadOlderSheet(olderPath, ticksPath);
  const newer = await loadSheet(newerPath);
  if (isSameRecording(older, newer)) {
    throw new PersonError(
      `Both sheets are of ${newer.recording.file}: give the sheets of two recordings, the older first.`,
    );
  }
  if (older.shot.name !== newer.shot.name) {
    screen.tell(
      `critsheet: the sheets name different shots, ${older.shot.name} and ${newer.shot.name}; they are compared all the same.`,
    );
  }
  const { loadLanguage } = await import('../language/language.ts');
  const { compareSheets } = await import('../comparison/compare.ts');
  const previous = compareSheets(older, newer, loadLanguage(), ticks);
  if (json) {
    const { file, sha256 } = newer.recording;
    screen.print(
      JSON.stringify({ schema: COMPARISON_SCHEMA, newRecording: { file, sha256 }, ...previous }, null, 2),
    );
    return;
  }
  const { describeComparison } = await import('../comparison/describe.ts');
  screen.print(describeComparison(previous, newer));
}
