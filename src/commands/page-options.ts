import type { Command } from 'commander';
import { PersonError } from '../basics/problem.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Writer } from '../sheet/writers/writer.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import type { Surroundings } from './screen.ts';

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

export interface PageMaking {
  readonly sheet: Sheet;
  readonly formats: readonly string[];
  readonly options: PageArguments;
  /** Where the recording is looked for. */
  readonly folder: string;
  readonly recording?: string | undefined;
  /** Where the page will lie. */
  readonly out: string;
}

/** Every writer, that of the page with its sound, pictures and script where the page is asked for. */
export async function writersFor(
  making: PageMaking,
  { screen, signal }: Surroundings,
): Promise<Readonly<Record<string, Writer<Sheet>>>> {
  const { sheet, formats, options, folder, recording, out } = making;
  if (!formats.includes('html')) return SHEET_AND_TRANSCRIPT_WRITERS;
  const { makeSheetPage, pageWriter } = await import('../page/sheet-page.ts');
  const { html, problems } = await makeSheetPage(sheet, {
    folder,
    recording,
    linkSoundFrom: options.linkSound ? out : undefined,
    shotPicture: options.shotPicture,
    signal,
  });
  for (const { message } of problems) screen.tell(`critsheet: ${message}`);
  return { ...SHEET_AND_TRANSCRIPT_WRITERS, html: pageWriter(sheet, html) };
}
