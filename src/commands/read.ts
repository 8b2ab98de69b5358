import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';
import type { ReadJob } from '../batch/read-job.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { formatHelp, formatList } from './options.ts';
import { addPageOptions, checkPageOptions, type PageArguments } from './page-options.ts';
import { addPlayingOptions, type PlayingArguments, passSourcesOf } from './playing-options.ts';
import { folderFor, type ReadingArguments } from './reading-arguments.ts';
import type { Surroundings } from './screen.ts';
import { addWriterOption, type WriterArguments } from './writer-option.ts';

interface ReadArguments extends ReadingArguments, PageArguments, PlayingArguments, WriterArguments {
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
  addWriterOption(command);
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
    const { doReadJob } = await import('../batch/do-read-job.ts');
    return doReadJob(jobOf(recording, options), { signal, onProgress: progress.onProgress });
  };
  const { sheet, result } = await work().finally(progress.stop);
  for (const notice of result.notices) screen.tell(`critsheet: ${notice}`);
  if (options.json) screen.print(SHEET_AND_TRANSCRIPT_WRITERS.json?.write(sheet).trimEnd() ?? '');
  else screen.print([result.summary, ...result.written.map((path) => `written: ${path}`)].join('\n'));
}

/** What the command line asks for one recording. */
function jobOf(recording: string, options: ReadArguments): ReadJob {
  const { as, writer, shot, previous, ticks, model, linkSound, shotPicture } = options;
  return {
    recording,
    folder: folderFor(recording, options),
    formats: [...(as ?? [])],
    writers: writer?.map((module) => module),
    shotFile: shot,
    ...passSourcesOf(options),
    previous,
    ticks,
    model,
    linkSound,
    shotPicture,
  };
}
