import { readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import type { Command } from 'commander';
import { sheetName } from '../sheet/file-names.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { formatHelp, formatList } from './options.ts';
import type { Surroundings } from './screen.ts';

interface WriteArguments {
  readonly as: readonly string[];
  readonly out?: string;
}

/** `critsheet write`: a sheet's written files again. */
export function addWrite(program: Command, surroundings: Surroundings): void {
  program
    .command('write')
    .summary('write a sheet in another format')
    .description('Writes files again from a sheet that "critsheet read" made; the recording is not needed.')
    .argument('<sheet>', 'a .sheet.json file')
    .requiredOption(
      '--as <formats>',
      `with commas between: ${formatHelp(SHEET_AND_TRANSCRIPT_WRITERS)}`,
      formatList(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS)),
    )
    .option('--out <folder>', 'where the files go (default: beside the sheet)')
    .option('--verbose', 'show the stack of an error')
    .action((path: string, options: WriteArguments) => write(path, options, surroundings));
}

async function write(path: string, options: WriteArguments, { screen }: Surroundings): Promise<void> {
  const folder = options.out ?? dirname(path);
  const { checkOutputFolder } = await import('./output/output-folder.ts');
  const { placeFiles } = await import('./output/place-files.ts');
  const { readSheet } = await import('../sheet/read-sheet.ts');
  const { readingFault } = await import('../basics/system-message.ts');
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
  await checkOutputFolder(folder);
  const sheet = readSheet(text, basename(path));
  const { paths, notices } = await placeFiles({
    record: sheet,
    formats: options.as,
    writers: SHEET_AND_TRANSCRIPT_WRITERS,
    folder,
    ...sheetName(path),
    reread: readSheet,
  });
  for (const notice of notices) screen.tell(`critsheet: ${notice}`);
  screen.print(paths.map((written) => `written: ${written}`).join('\n'));
}
