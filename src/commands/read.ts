import type { Command } from 'commander';
import { recordingName } from '../sheet/file-names.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import type { ReadingArguments } from './before-reading.ts';
import { formatHelp, formatList } from './options.ts';
import { addPageOptions, checkPageOptions, type PageArguments, writersFor } from './page-options.ts';
import type { Surroundings } from './screen.ts';

interface ReadArguments extends ReadingArguments, PageArguments {
  readonly shot?: string;
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
    .option('--out <folder>', 'where the files go (default: beside the recording)')
    .option(
      '--as <formats>',
      `more formats, with commas between: ${formatHelp(SHEET_AND_TRANSCRIPT_WRITERS)}`,
      formatList(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS)),
    );
  addPageOptions(command)
    .option('--json', 'print the sheet on standard output; files are written only with --out or --as')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((recording: string, options: ReadArguments) => read(recording, options, surroundings));
}

async function read(recording: string, options: ReadArguments, surroundings: Surroundings): Promise<void> {
  const { screen, signal } = surroundings;
  checkPageOptions(options.as ?? [], options);
  const { showProgress } = await import('./show-progress.ts');
  const progress = showProgress(screen, options.verbose === true);
  const work = async () => {
    const { beforeReading } = await import('./before-reading.ts');
    const { findShotFile, readShotFile } = await import('./shot-file.ts');
    const folder = await beforeReading(recording, options);
    const shotFile = options.shot ?? (await findShotFile(recording));
    const shot = shotFile ? await readShotFile(shotFile) : undefined;
    const { readCritique } = await import('../pipeline.ts');
    const { model } = options;
    const result = await readCritique(recording, { shot, model, signal, onProgress: progress.onProgress });
    return { ...result, folder, shotFile };
  };
  const { sheet, problems, folder, shotFile } = await work().finally(progress.stop);
  if (shotFile && !options.shot) {
    screen.tell(`critsheet: the shot is described by ${shotFile}, found beside the recording.`);
  }
  for (const { message } of problems) screen.tell(`critsheet: ${message}`);
  if (folder !== null) await writeFiles(recording, folder, sheet, options, surroundings);
  if (options.json) screen.print(SHEET_AND_TRANSCRIPT_WRITERS.json?.write(sheet).trimEnd() ?? '');
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
  const { sheetInShort } = await import('../sheet/sort-notes.ts');
  const { extname, dirname } = await import('node:path');
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
  });
  for (const notice of notices) screen.tell(`critsheet: ${notice}`);
  if (!options.json)
    screen.print([sheetInShort(sheet), ...paths.map((path) => `written: ${path}`)].join('\n'));
}
