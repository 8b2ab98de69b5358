import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';
import { addPlayingOptions } from './playing-options.ts';
import { addHowToRead, type HowToRead, jobOf } from './read-arguments.ts';
import type { Surroundings } from './screen.ts';

interface ReadArguments extends HowToRead {
  readonly previous?: string;
  readonly ticks?: string;
  readonly onlyNew?: true;
}

/** `critsheet read`: the whole path. */
export function addRead(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('read')
    .summary('make a ranked sheet from a recording, or from each of many')
    .description(
      'Makes NAME.sheet.json and NAME.sheet.md from a recorded critique: sound, a video, captions (.vtt, .srt), or a transcript (.transcript.json). Of several recordings each gets its own; settings for all are taken from the nearest critsheet.json above them.',
    )
    .argument('<recordings...>', 'files, folders, or patterns such as "takes/*.wav"');
  addPlayingOptions(addHowToRead(command))
    .option(
      '--previous <sheet>',
      'the .sheet.json of the recording before: the sheet then says what became of its notes',
    )
    .option('--ticks <file>', "with --previous: the .ticks.json file that that sheet's page saved")
    .option(
      '--only-new',
      'leave out recordings that have a sheet of the same content, read with the same settings',
    )
    .option('--json', 'print the sheet on standard output; files are written only with --out or --as')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((args: string[], options: ReadArguments) => read(args, options, surroundings));
}

async function read(
  args: readonly string[],
  options: ReadArguments,
  surroundings: Surroundings,
): Promise<void> {
  if (options.ticks !== undefined && options.previous === undefined) {
    throw new PersonError('--ticks belongs to an older sheet: add --previous OLD.sheet.json.');
  }
  const { findRecordings } = await import('../batch/find-recordings.ts');
  const { recordings, one } = await findRecordings(args, options.nested === true);
  const [first] = recordings;
  if (one && first !== undefined && !options.onlyNew) {
    const { previous, ticks } = options;
    const { readOne } = await import('./read-one.ts');
    await readOne({ ...(await jobOf(first, options)), previous, ticks }, options, surroundings);
    return;
  }
  refuseWhatIsForOne(options, recordings.length);
  const { readEach } = await import('./read-each.ts');
  await readEach(recordings, options, surroundings);
}

/** Options that tell of one recording, or have room for one. */
const FOR_ONE = { playhead: '--playhead', previous: '--previous', json: '--json' } as const;

function refuseWhatIsForOne(options: ReadArguments, count: number): void {
  for (const [key, option] of Object.entries(FOR_ONE)) {
    if (options[key as keyof typeof FOR_ONE] === undefined) continue;
    throw new PersonError(
      `${option} is for one recording, and a folder, a pattern or several files are given (${count} in all): read that recording by itself.`,
    );
  }
}
