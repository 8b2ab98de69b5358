import { dirname } from 'node:path';
import type { Command } from 'commander';
import { sheetName } from '../sheet/file-names.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { formatHelp, formatList } from './options.ts';
import { addPageOptions, checkPageOptions, type PageArguments } from './page-options.ts';
import type { Surroundings } from './screen.ts';
import { addWriterOption, type WriterArguments } from './writer-option.ts';

interface WriteArguments extends PageArguments, WriterArguments {
  readonly as?: readonly string[];
  readonly out?: string;
  readonly recording?: string;
}

/** `critsheet write`: a sheet's written files again. */
export function addWrite(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('write')
    .summary('write a sheet in another format')
    .description(
      'Writes files again from a sheet that "critsheet read" made. Only the sound of a page needs the recording, which is looked for beside the sheet and in the folder above.',
    )
    .argument('<sheet>', 'a .sheet.json file')
    .option(
      '--as <formats>',
      `with commas between: ${formatHelp(SHEET_AND_TRANSCRIPT_WRITERS)}`,
      formatList(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS)),
    )
    .option('--out <folder>', 'where the files go (default: beside the sheet)')
    .option(
      '--recording <file>',
      'with html: the recording, where it is neither beside the sheet nor in the folder above',
    );
  addWriterOption(command);
  addPageOptions(command)
    .option('--verbose', 'show the stack of an error')
    .action((path: string, options: WriteArguments) => {
      if (!options.as && !options.writer)
        command.error("error: required option '--as <formats>' not specified");
      return write(path, options, surroundings);
    });
}

async function write(path: string, options: WriteArguments, surroundings: Surroundings): Promise<void> {
  const { screen, signal } = surroundings;
  const { as = [] } = options;
  checkPageOptions(as, options);
  const folder = options.out ?? dirname(path);
  const { checkOutputFolder } = await import('../files/output-folder.ts');
  const { placeFiles } = await import('../files/place-files.ts');
  const { readSheet } = await import('../sheet/read-sheet.ts');
  const { uncorrect } = await import('../corrections/correctable.ts');
  const { loadSheet } = await import('../files/sheet-file.ts');
  const sheet = await loadSheet(path);
  await checkOutputFolder(folder);
  const { loadWriters } = await import('../files/load-writers.ts');
  const outside = await loadWriters(options.writer ?? []);
  const formats = [...as, ...Object.keys(outside)];
  const { writersFor } = await import('../page/page-writers.ts');
  const { writers, problems } = await writersFor({
    sheet,
    formats,
    wish: options,
    folder: dirname(path),
    recording: options.recording,
    out: folder,
    signal,
  });
  for (const { message } of problems) screen.tell(`critsheet: ${message}`);
  const { paths, notices } = await placeFiles({
    record: sheet,
    formats,
    writers: { ...writers, ...outside },
    folder,
    ...sheetName(path),
    reread: readSheet,
    uncorrect,
    before: sheet,
  });
  for (const notice of notices) screen.tell(`critsheet: ${notice}`);
  screen.print(paths.map((written) => `written: ${written}`).join('\n'));
}
