import { stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { type Command, InvalidArgumentError } from 'commander';
import { PersonError } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import { findSettings, isLeftOut } from '../files/settings-file.ts';
import { addHowToRead, type HowToRead, jobOf } from './read-arguments.ts';
import type { Surroundings } from './screen.ts';
import { Outcomes } from './tell-outcomes.ts';

interface WatchArguments extends HowToRead {
  readonly poll?: true;
  readonly settle: number;
}

const SETTLE_SECONDS = 2;

/** `critsheet watch`: every recording that lands in a folder is read. */
export function addWatch(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('watch')
    .summary('read every recording that lands in a folder')
    .description(
      'Reads each recording that lies in a folder without a sheet, and each that lands there, when it is whole. Runs until Ctrl-C, and then lists what could not be read.',
    )
    .argument('<folder>', 'the folder to watch');
  addHowToRead(command)
    .option(
      '--shot-sound <file>',
      "the shot's own sound or video, where all recordings are of one shot: where it plays in them is found",
    )
    .option('--counter', 'read the frame counter in the picture of screen recordings')
    .option('--poll', 'look again and again, for network folders that do not tell of changes')
    .option(
      '--settle <seconds>',
      `a recording is whole when nothing has happened to it for so long (default: ${SETTLE_SECONDS})`,
      seconds,
      SETTLE_SECONDS,
    )
    .option('--verbose', 'say more, and show the stack of an error')
    .action((folder: string, options: WatchArguments) => watch(folder, options, surroundings));
}

async function watch(folder: string, options: WatchArguments, surroundings: Surroundings): Promise<void> {
  const { screen, signal } = surroundings;
  await checkFolder(folder);
  // Told of at once, and not of each recording again, where it is wrong from the start.
  await findSettings(folder);
  const { openPool } = await import('../batch/pool.ts');
  const { watchFolder } = await import('../batch/watch-folder.ts');
  const outcomes = new Outcomes(screen, options.verbose === true);
  const pool = openPool(options.atOnce);
  const shotFiles = [options.shotSound, options.shotPicture].flatMap((path) => (path ? resolve(path) : []));
  let gone = false;
  try {
    await watchFolder(folder, {
      pool,
      signal,
      nested: options.nested === true,
      poll: options.poll === true,
      quietMilliseconds: options.settle * 1000,
      jobOf: async (recording) => {
        const isShot = shotFiles.includes(resolve(recording));
        if (isShot || isLeftOut(recording, await findSettings(dirname(recording)))) return null;
        return jobOf(recording, options);
      },
      onFolder: (there) => {
        if (!there) screen.tell(`critsheet: ${folder} is gone; waiting for it to come back.`);
        else if (gone) screen.tell(`critsheet: ${folder} is back.`);
        else screen.tell(`critsheet: watching ${folder}; Ctrl-C ends it.`);
        gone = !there;
      },
      onEnd: (recording, outcome) => {
        if (outcome === 'removed') {
          screen.tell(`critsheet: ${recording} was taken away before it was read.`);
        } else if (outcome === 'current' && !options.verbose) {
          outcomes.forget(recording);
        } else {
          outcomes.tell(recording, outcome);
        }
      },
    });
  } finally {
    await pool.close();
  }
  outcomes.close();
}

async function checkFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch((error: unknown) => {
    throw readingFault(error, folder);
  });
  if (!found.isDirectory())
    throw new PersonError(`${folder} is a file, not a folder: give the folder it is in.`);
}

function seconds(text: string): number {
  const number = Number(text);
  if (!(number >= 0.1 && number <= 3600))
    throw new InvalidArgumentError('It takes seconds, from 0.1 to 3600.');
  return number;
}
