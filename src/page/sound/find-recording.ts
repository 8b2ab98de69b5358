import { access } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { PersonError } from '../../basics/problem.ts';
import { holdsWordsAlone } from '../../files/words-file.ts';
import { readRecording } from '../../recording/read-recording.ts';
import type { Recording, Watch } from '../../recording/recording.ts';
import type { Sheet } from '../../sheet/sheet.ts';

/** The recording of a sheet, or one sentence for a person on why it cannot be heard. */
export type FoundRecording =
  | { readonly path: string; readonly recording: Recording }
  | { readonly why: string };

export interface RecordingPlace extends Watch {
  /** The sheet's folder: its recording is looked for there and in the folder above, as sheets often have one of their own. */
  readonly folder: string;
  /** Where a person says the recording is. */
  readonly given?: string | undefined;
}

/**
 * Finds a sheet's recording and reads its sound. Of what a sheet says only the name is used, never a folder: a sheet may
 * come from anywhere, and must not choose which files are read.
 *
 * @throws PersonError where a recording was given that is not the one the sheet was made from.
 */
export async function findRecording(sheet: Sheet, place: RecordingPlace): Promise<FoundRecording> {
  const { file, sha256 } = sheet.recording;
  const isText = holdsWordsAlone(file);
  if (isText && place.given === undefined) {
    return { why: `The sheet was made from ${file}, which holds words and no sound.` };
  }
  const path = place.given ?? (await besideOrAbove(place.folder, basename(file.replaceAll('\\', '/'))));
  if (path === null) return { why: `${file} was not found beside the sheet or in the folder above.` };
  const recording = await readRecording(path, place).catch((error: unknown) => {
    if (place.given === undefined && error instanceof PersonError) return error.message;
    throw error;
  });
  if (typeof recording === 'string') return { why: recording };
  if (!isText && recording.sha256 !== sha256) {
    const why = `${basename(path)} is not the recording that this sheet was made from.`;
    if (place.given !== undefined) throw new PersonError(`${why} Give that one with --recording.`);
    return { why };
  }
  return { path, recording };
}

/** @param name A name without folders: nothing else than these two is ever looked into. */
async function besideOrAbove(folder: string, name: string): Promise<string | null> {
  for (const path of [join(folder, name), join(folder, '..', name)]) {
    const isThere = await access(path).then(
      () => true,
      () => false,
    );
    if (isThere) return path;
  }
  return null;
}
