import { access, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { readingFault } from '../basics/system-message.ts';
import { findModel } from '../transcript/models/catalogue.ts';
import { checkOutputFolder } from './output/output-folder.ts';

/** What "read" and "transcribe" take alike. */
export interface ReadingArguments {
  readonly model?: string;
  readonly glossary?: string;
  readonly out?: string;
  readonly as?: readonly string[];
  readonly json?: true;
  readonly verbose?: true;
}

/**
 * Looks, before a long recording is read, whether it is there, its files will have a place, and the model can be meant.
 *
 * @returns The folder for the files; null where none are to be written.
 * @throws PersonError that says what to mend.
 */
export async function beforeReading(recording: string, options: ReadingArguments): Promise<string | null> {
  await access(recording).catch((error: unknown) => {
    throw readingFault(error, recording);
  });
  await checkModelName(options.model);
  if (options.json && options.out === undefined && options.as === undefined) return null;
  const folder = options.out ?? dirname(recording);
  await checkOutputFolder(folder);
  return folder;
}

/** A model's name must be of the catalogue, or a folder. */
async function checkModelName(model: string | undefined): Promise<void> {
  if (model === undefined) return;
  const isFolder = await stat(model).then(
    (found) => found.isDirectory(),
    () => false,
  );
  if (!isFolder) findModel(model);
}
