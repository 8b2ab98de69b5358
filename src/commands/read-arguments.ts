import { dirname } from 'node:path';
import { type Command, InvalidArgumentError } from 'commander';
import type { ReadJob } from '../batch/read-job.ts';
import { findSettings, type Settings } from '../files/settings-file.ts';
import { recordingName } from '../sheet/file-names.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { addCacheOption, type CacheArguments } from './cache-option.ts';
import { GLOSSARY_OPTION } from './glossary-option.ts';
import { formatHelp, formatList } from './options.ts';
import { addPageOptions, checkPageOptions, type PageArguments } from './page-options.ts';
import { type PlayingArguments, passSourcesOf } from './playing-options.ts';
import { folderFor, type ReadingArguments } from './reading-arguments.ts';
import { addWriterOption, type WriterArguments } from './writer-option.ts';

/** How recordings are read, whether they are named or watched for. */
export interface HowToRead
  extends ReadingArguments,
    PageArguments,
    PlayingArguments,
    CacheArguments,
    WriterArguments {
  readonly shot?: string;
  readonly nested?: true;
  readonly atOnce?: number;
}

/** Adds what "read", "watch" and "submit" take alike: what is known beforehand, and what is made. */
export function addWhatIsMade(command: Command): Command {
  command
    .option(
      '--shot <file>',
      'what is known of the shot (default: NAME.shot.json or shot.json beside the recording)',
    )
    .option('--model <id>', 'the speech model, as "critsheet models" lists them')
    .option(...GLOSSARY_OPTION)
    .option('--out <folder>', 'where the files go (default: beside the recording)')
    .option(
      '--as <formats>',
      `more formats, with commas between: ${formatHelp(SHEET_AND_TRANSCRIPT_WRITERS)}`,
      formatList(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS)),
    )
    .option('--nested', 'of a folder: look through the folders in it too');
  return addCacheOption(addPageOptions(command));
}

/** Adds what "read" and "watch" take alike. */
export function addHowToRead(command: Command): Command {
  addWhatIsMade(command);
  addWriterOption(command);
  return addAtOnce(command);
}

/** Adds how many recordings are read at once. */
export function addAtOnce(command: Command): Command {
  return command.option(
    '--at-once <number>',
    'how many recordings are read at once (default: one for each core, as far as there is memory)',
    wholeNumber,
  );
}

/**
 * What is asked for one recording: by the command line, else by the critsheet.json found upwards from it.
 *
 * @throws PersonError where the settings cannot be used, or options would be without effect.
 */
export async function jobOf(recording: string, options: HowToRead): Promise<ReadJob> {
  return withSettings(recording, options, await findSettings(dirname(recording)));
}

function withSettings(recording: string, options: HowToRead, settings: Settings | null): ReadJob {
  const formats = [...(options.as ?? settings?.formats ?? [])];
  checkPageOptions(formats, options);
  const folder = folderFor(recording, options);
  return {
    recording,
    folder: folder !== null && options.out === undefined ? (settings?.out ?? folder) : folder,
    formats,
    writers: options.writer?.map((module) => module),
    shotFile: options.shot,
    glossary: options.glossary,
    shotDefaults: settings ? shotDefaults(settings, recording) : undefined,
    ...passSourcesOf(options),
    model: options.model ?? settings?.model,
    cache: options.cache,
    linkSound: options.linkSound,
    shotPicture: options.shotPicture,
  };
}

/** One name cannot be that of every shot: a pattern makes it of the recording's. */
function shotDefaults({ shot }: Settings, recording: string): ReadJob['shotDefaults'] {
  if (shot.name === undefined) return shot;
  return { ...shot, name: shot.name.replaceAll('{recording}', recordingName(recording)) };
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1 || number > 64)
    throw new InvalidArgumentError('It takes a whole number from 1 to 64.');
  return number;
}
