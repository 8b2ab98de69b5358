import { mkdir, mkdtemp, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PersonError } from '../../basics/problem.ts';
import { cacheFolder } from './cache-folder.ts';
import { findModel, type ModelEntry } from './catalogue.ts';
import { mendable } from './folder-errors.ts';
import { checkFolder, writeManifest } from './manifest.ts';

const WORKING = '.making-';
const STALE_MILLISECONDS = 3_600_000;

/** Where a model's folder is, or would be. Raise the number when what is built into a folder changes. */
export function modelFolderPath(id: string, cacheDir: string = cacheFolder()): string {
  return join(cacheDir, 'models', '2', id);
}

/**
 * The folder of a model that comes with critsheet, made on first use.
 *
 * It is built aside and moved into place in one step, so a folder is whole or not there. A folder with a missing or
 * altered file is made again. Several processes may ask at once: the first to finish wins and the others take its folder.
 *
 * @param id A model id of the catalogue.
 * @param options.cacheDir The cache folder, in place of the platform's.
 * @returns The folder's path.
 * @throws PersonError where the id is unknown, the model has to be prepared first, or the folder cannot be written.
 */
export async function ensureModelFolder(id: string, options: { cacheDir?: string } = {}): Promise<string> {
  const model = findModel(id);
  const folder = modelFolderPath(id, options.cacheDir);
  if ((await checkFolder(folder, id)) === 'sound') return folder;
  if (model.family !== 'moonshine') {
    throw new PersonError(
      `The model ${id} is not on this machine, or its files are damaged: run "critsheet models prepare ${id}" once while connected.`,
    );
  }
  const { buildMoonshine } = await import('./build-moonshine.ts');
  return fillModelFolder(model, folder, (temporary) => buildMoonshine(model, temporary));
}

/**
 * Builds a model folder aside by `fill`, adds its manifest, and moves it into place.
 *
 * @throws PersonError for a folder that cannot be written or a full disk; what `fill` throws otherwise.
 */
export async function fillModelFolder(
  model: ModelEntry,
  folder: string,
  fill: (temporary: string) => Promise<void>,
): Promise<string> {
  const parent = join(folder, '..');
  try {
    await mkdir(parent, { recursive: true });
    await sweep(parent);
    const temporary = await mkdtemp(join(parent, `${WORKING}${model.id}-`));
    try {
      await fill(temporary);
      await writeManifest(temporary, model.id);
      await moveIntoPlace(temporary, folder, model.id);
    } finally {
      await rm(temporary, { recursive: true, force: true });
    }
    return folder;
  } catch (error) {
    throw mendable(error, parent);
  }
}

/** Moves a finished folder to its name; where another process was faster and its folder is sound, that one stays. */
async function moveIntoPlace(made: string, folder: string, id: string): Promise<void> {
  for (let attempt = 0; ; attempt++) {
    try {
      return await rename(made, folder);
    } catch (error) {
      if (attempt === 5 || !(await stat(folder).catch(() => null))) throw error;
    }
    if ((await checkFolder(folder, id)) === 'sound') return;
    // A damaged folder cannot be replaced in one step: it is moved aside and removed from there.
    const aside = await mkdtemp(join(folder, '..', `${WORKING}damaged-`));
    await rename(folder, join(aside, id)).catch(() => undefined);
    await rm(aside, { recursive: true, force: true });
  }
}

/** Removes what a killed process left behind. */
async function sweep(parent: string): Promise<void> {
  for (const name of await readdir(parent)) {
    if (!name.startsWith(WORKING)) continue;
    const path = join(parent, name);
    const age =
      Date.now() -
      (await stat(path).then(
        (found) => found.mtimeMs,
        () => Date.now(),
      ));
    if (age > STALE_MILLISECONDS) await rm(path, { recursive: true, force: true });
  }
}
