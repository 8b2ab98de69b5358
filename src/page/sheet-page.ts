import { createHash } from 'node:crypto';
import type { Problem } from '../basics/problem.ts';
import { holdsWordsAlone } from '../files/words-file.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Beside, Sound } from '../sheet/writers/html/beside.ts';
import { writeHtml } from '../sheet/writers/html.tsx';
import type { Writer } from '../sheet/writers/writer.ts';
import { SHEET_WRITERS } from '../sheet/writers/writers.ts';
import { notePictures } from './pictures/note-pictures.ts';
import { isSealed, seal } from './seal.ts';
import { findRecording } from './sound/find-recording.ts';
import { soundBeside, soundInside } from './sound/page-sound.ts';
import { viewFiles } from './view-files.ts';

export interface SheetPageOptions {
  /** Where the recording is looked for by its name; it may lie in the folder above too. */
  readonly folder: string;
  /** The recording, where a person or the command line names it. */
  readonly recording?: string | undefined;
  /** Play the recording from where it lies, and keep the page small: the folder that the page will lie in. */
  readonly linkSoundFrom?: string | undefined;
  /** A video of the shot, or a folder of its frames. */
  readonly shotPicture?: string | undefined;
  readonly signal?: AbortSignal | undefined;
}

/**
 * Makes the animator's page of a sheet: sound, pictures and front end are gathered, and everything is put into one file.
 *
 * @throws PersonError where something that was asked for cannot be read.
 */
export async function makeSheetPage(
  sheet: Sheet,
  options: SheetPageOptions,
): Promise<{ html: string; problems: Problem[] }> {
  const { folder, recording: given, linkSoundFrom, shotPicture, signal } = options;
  const found = await findRecording(sheet, { folder, given, signal });
  const sound =
    linkSoundFrom === undefined ? await soundInside(sheet, found) : soundBeside(found, linkSoundFrom);
  const { pictures, problems } = shotPicture
    ? await notePictures(sheet, shotPicture, signal)
    : { pictures: new Map<string, string>(), problems: [] };
  const { script, style } = await viewFiles('sheet');
  const beside: Beside = { sound, pictures, script, style, policy: policyOf(script, style, sound) };
  const advice =
    given === undefined && !holdsWordsAlone(sheet.recording.file)
      ? ' Give the recording with --recording.'
      : '';
  const silent: Problem[] =
    sound.kind === 'none' ? [{ stage: 'page', message: `The page has no sound. ${sound.why}${advice}` }] : [];
  return { html: seal(writeHtml(sheet, beside), sheet.recording.sha256), problems: [...silent, ...problems] };
}

/** The writer of pages for "placeFiles": the page was made before, and an older one is known by its seal. */
export function pageWriter(sheet: Sheet, html: string): Writer<Sheet> {
  const plain = SHEET_WRITERS.html;
  if (!plain) throw new Error('no writer for html');
  return {
    ...plain,
    write: (record) => (record === sheet ? html : plain.write(record)),
    owns: (text) => isSealed(text, sheet.recording.sha256),
  };
}

/** Nothing but this script and this style: even a text that slipped through unescaped could do nothing. */
function policyOf(script: string, style: string, sound: Sound): string {
  return [
    "default-src 'none'",
    `script-src '${checksum(script)}'`,
    `style-src '${checksum(style)}'`,
    'img-src data:',
    `media-src blob:${sound.kind === 'link' ? " 'self' file:" : ''}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

function checksum(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}
