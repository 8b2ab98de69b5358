import { type Command, InvalidArgumentError } from 'commander';
import type { Box } from '../recording/picture/picture.ts';
import type { PassSources } from '../recording/read-passes.ts';

/** The options by which a person says what tells where the shot stood. */
export interface PlayingArguments {
  readonly shotSound?: string;
  readonly playhead?: string;
  readonly counter?: Box | true;
}

/** Adds them to a command. */
export function addPlayingOptions(command: Command): Command {
  return command
    .option('--shot-sound <file>', "the shot's own sound or video: where it plays in the recording is found")
    .option(
      '--playhead <log.csv>',
      'where the player stood: a table with the columns time (seconds) and frame',
    )
    .option(
      '--counter [x,y,w,h]',
      'read the frame counter in the picture of a screen recording; found, or in this box of pixels',
      boxOf,
    );
}

/** What was given, as the pipeline takes it. */
export function passSourcesOf({ shotSound, playhead, counter }: PlayingArguments): PassSources {
  return { shotSound, playhead, counter: counter === true ? 'find' : counter };
}

function boxOf(text: string): Box {
  const [x, y, width, height, ...more] = text.split(',').map((part) => Number(part.trim()));
  const numbers = [x, y, width, height];
  const good = numbers.every((one) => one !== undefined && Number.isInteger(one) && one >= 0);
  if (!good || more.length > 0 || !width || !height)
    throw new InvalidArgumentError(
      'It takes four whole numbers with commas between: left, top, width, height in pixels, as 20,640,160,40.',
    );
  return { x: x ?? 0, y: y ?? 0, width, height };
}
