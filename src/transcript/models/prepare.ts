import { messageOf, PersonError } from '../../basics/problem.ts';
import { cacheFolder } from './cache-folder.ts';
import { findModel } from './catalogue.ts';
import { checkFolder } from './manifest.ts';
import { ensureModelFolder, fillModelFolder, modelFolderPath } from './model-folder.ts';

export interface PrepareOptions {
  /** In place of the platform's cache folder. */
  readonly cacheDir?: string;
  /** How much of the download is done, 0 to 1. */
  readonly onProgress?: (fraction: number) => void;
  /** Fetches a public model into an empty folder; the model hub's where it is left out. */
  readonly download?: (
    publicId: string,
    folder: string,
    onProgress?: (fraction: number) => void,
  ) => Promise<void>;
}

/**
 * Puts a model on this machine: makes the folder of one that comes with critsheet, or fetches another from the public
 * model hub. It is the only thing in critsheet that uses the network, and only because a person asked for it by name.
 *
 * @returns The model's folder.
 * @throws PersonError for an unknown id, no network, or a folder that cannot be written.
 */
export async function prepare(id: string, options: PrepareOptions = {}): Promise<string> {
  const model = findModel(id);
  const { cacheDir = cacheFolder(), onProgress } = options;
  const { publicId } = model;
  if (publicId === null) return ensureModelFolder(id, { cacheDir });
  const folder = modelFolderPath(id, cacheDir);
  if ((await checkFolder(folder, id)) === 'sound') return folder;
  const download = options.download ?? (await import('./download.ts')).downloadModel;
  return fillModelFolder(model, folder, async (temporary) => {
    try {
      await download(publicId, temporary, onProgress);
    } catch (error) {
      if (isDiskError(error)) throw error;
      throw new PersonError(
        `The model ${id} could not be fetched (${rootMessage(error)}): connect this machine to the network and try again, or give the folder of an exported model instead of its name.`,
        { cause: error },
      );
    }
  });
}

/** A full disk is told apart from a broken connection by the one who made the folder. */
function isDiskError(error: unknown): boolean {
  return (
    error instanceof Error &&
    'code' in error &&
    ['ENOSPC', 'EDQUOT', 'EACCES', 'EROFS'].includes(String(error.code))
  );
}

/** "fetch failed" says nothing: what failed is in its cause. */
function rootMessage(error: unknown): string {
  return error instanceof Error && error.cause ? rootMessage(error.cause) : messageOf(error);
}
