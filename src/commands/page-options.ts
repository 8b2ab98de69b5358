import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';

/** What the commands that write a page take for it. */
export interface PageArguments {
  readonly linkSound?: true;
  readonly shotPicture?: string;
}

export function addPageOptions(command: Command): Command {
  return command
    .option('--link-sound', 'with html: play the recording from where it lies; the page stays small')
    .option(
      '--shot-picture <path>',
      "with html: the shot's video, or a folder of its frames, for a small picture beside each note",
    );
}

/** Refuses options that would be without effect, before any long work. */
export function checkPageOptions(
  formats: readonly string[],
  { linkSound, shotPicture }: PageArguments,
): void {
  if (formats.includes('html')) return;
  const useless = linkSound ? '--link-sound' : shotPicture === undefined ? null : '--shot-picture';
  if (useless) throw new PersonError(`${useless} is for the page: add --as html.`);
}
