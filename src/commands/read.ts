import { dirname, extname, join } from 'node:path';
import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';
import type { Corrections } from '../corrections/corrections.ts';
import { recordingName } from '../sheet/file-names.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import type { ReadingArguments } from './before-reading.ts';
import { GLOSSARY_OPTION, readGlossaryFile } from './glossary-file.ts';
import { formatHelp, formatList } from './options.ts';
import { addPageOptions, checkPageOptions, type PageArguments, writersFor } from './page-options.ts';
import { addPlayingOptions, type PlayingArguments, passSourcesOf } from './playing-options.ts';
import type { Surroundings } from './screen.ts';

interface ReadArguments extends ReadingArguments, PageArguments, PlayingArguments {
  readonly shot?: string;
  readonly previous?: string;
  readonly ticks?: string;
}

/** `critsheet read`: the whole path. */
export function addRead(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('read')
    .summary('make a ranked sheet from a recording')
    .description(
      'Makes NAME.sheet.json and NAME.sheet.md from a recorded critique: sound, a video, captions (.vtt, .srt), or a transcript (.transcript.json).',
    )
    .argument('<recording>', 'the file to read')
    .option(
      '--shot <file>',
      'what is known of the shot (default: NAME.shot.json or shot.json beside the recording)',
    )
    .option('--model <id>', 'the speech model, as "critsheet models" lists them')
    .option(...GLOSSARY_OPTION)
    .option(
      '--previous <sheet>',
      'the .sheet.json of the recording before: the sheet then says what became of its notes',
    )
    .option('--ticks <file>', "with --previous: the .ticks.json file that that sheet's page saved")
    .option('--out <folder>', 'where the files go (default: beside the recording)')
    .option(
      '--as <formats>',
      `more formats, with commas between: ${formatHelp(SHEET_AND_TRANSCRIPT_WRITERS)}`,
      formatList(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS)),
    );
  addPlayingOptions(command);
  addPageOptions(command)
    .option('--json', 'print the sheet on standard output; files are written only with --out or --as')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((recording: string, options: ReadArguments) => read(recording, options, surroundings));
}

async function read(recording: string, options: ReadArguments, surroundings: Surroundings): Promise<void> {
  const { screen, signal } = surroundings;
  checkPageOptions(options.as ?? [], options);
  if (options.ticks !== undefined && options.previous === undefined) {
    throw new PersonError('--ticks belongs to an older sheet: add --previous OLD.sheet.json.');
  }
  const { showProgress } = await import('./show-progress.ts');
  const progress = showProgress(screen, options.verbose === true);
  const work = async () => {
    const { beforeReading } = await import('./before-reading.ts');
    const { findShotFile, readShotFile } = await import('./shot-file.ts');
    const folder = await beforeReading(recording, options);
    const shotFile = options.shot ?? (await findShotFile(recording));
    const shot = shotFile ? await readShotFile(shotFile) : undefined;
    const glossary = options.glossary ? await readGlossaryFile(options.glossary) : undefined;
    const passes = await passSourcesOf(options);
    const { loadOlderSheet } = await import('./older-sheet.ts');
    const previous = options.previous ? await loadOlderSheet(options.previous, options.ticks) : undefined;
    const corrections = await correctionsBeside(recording, folder ?? dirname(recording));
    const { readCritique } = await import('../pipeline.ts');
    const { model } = options;
    const onProgress = progress.onProgress;
    const result = await readCritique(recording, {
      shot,
      glossary,
      passes,
      corrections,
      previous,
      model,
      signal,
      onProgress,
    });
    return { ...result, folder, shotFile, corrections };
  };
  const { sheet, problems, folder, shotFile, corrections } = await work().finally(progress.stop);
  if (shotFile && !options.shot) {
    screen.tell(`critsheet: the shot is described by ${shotFile}, found beside the recording.`);
  }
  if (corrections && corrections.recording.sha256 === sheet.recording.sha256) {
    const { standing } = await import('../corrections/decisions.ts');
    const misfits = problems.filter(({ stage }) => stage === 'corrections').length;
    const made = standing(corrections.decisions).length;
    screen.tell(`critsheet: ${made - misfits} of ${made} corrections made by hand were applied again.`);
  }
  for (const { message } of problems) screen.tell(`critsheet: ${message}`);
  if (folder !== null) await writeFiles(recording, folder, sheet, options, surroundings);
  if (options.json) screen.print(SHEET_AND_TRANSCRIPT_WRITERS.json?.write(sheet).trimEnd() ?? '');
}

/** What a person corrected of an earlier sheet of this recording, which lies where the new one will. */
async function correctionsBeside(recording: string, folder: string): Promise<Corrections | undefined> {
  const { CORRECTIONS_ENDING, loadCorrectionsOfAny } = await import('../page/corrections-file.ts');
  const path = join(folder, `${recordingName(recording)}${CORRECTIONS_ENDING}`);
  return (await loadCorrectionsOfAny(path)) ?? undefined;
}

async function writeFiles(
  recording: string,
  folder: string,
  sheet: Sheet,
  options: ReadArguments,
  surroundings: Surroundings,
): Promise<void> {
  const { screen } = surroundings;
  const { placeFiles } = await import('./output/place-files.ts');
  const { readSheet } = await import('../sheet/read-sheet.ts');
  const { uncorrect } = await import('../corrections/correctable.ts');
  const { sheetInShort } = await import('../sheet/sort-notes.ts');
  const formats = [...new Set(['json', 'md', ...(options.as ?? [])])];
  // A sheet made from words alone has no recording; it says so where sound is looked for.
  const holdsSound = !['.vtt', '.srt', '.json'].includes(extname(recording).toLowerCase());
  const writers = await writersFor(
    {
      sheet,
      formats,
      options,
      folder: dirname(recording),
      recording: holdsSound ? recording : undefined,
      out: folder,
    },
    surroundings,
  );
  const { paths, notices } = await placeFiles({
    record: sheet,
    formats,
    writers,
    folder,
    name: recordingName(recording),
    reread: readSheet,
    uncorrect,
  });
  for (const notice of notices) screen.tell(`critsheet: ${notice}`);
  if (!options.json)
    screen.print([sheetInShort(sheet), ...paths.map((path) => `written: ${path}`)].join('\n'));
}
