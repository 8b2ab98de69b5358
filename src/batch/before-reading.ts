import { access, stat } from 'node:fs/promises';
import { readingFault } from '../basics/system-message.ts';
import { checkOutputFolder } from '../files/output-folder.ts';
import { findModel } from '../transcript/models/catalogue.ts';

/** What a reading leans on, as far as it can be looked at beforehand. */
export interface Needed {
  /** Files that must be there, the recording among them; those left out are not asked for. */
  readonly inputs: readonly (string | undefined)[];
  readonly model?: string | undefined;
  /** The folder for the files; null where none are to be written. */
  readonly folder: string | null;
}

/**
 * Looks, before a long recording is read, whether it is there, its files will have a place, and the model can be meant.
 *
 * @throws PersonError that says what to mend.
 */
export async function beforeReading({ inputs, model, folder }: Needed): Promise<void> {
  for (const path of inputs) {
    if (path === undefined) continue;
    await access(path).catch((error: unknown) => {
      throw readingFault(error, path);
    });
  }
  await checkModelName(model);
  if (folder !== null) await checkOutputFolder(folder);
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
