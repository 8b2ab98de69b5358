import { readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { loadLibrary } from '../engines/library.ts';

const ARRIVING = '.arriving';

/**
 * Fetches an exported model from the public model hub into an empty folder, through the transformers library, which is
 * opened to the network for this one call.
 *
 * @param publicId The model's id at the hub, as in the catalogue.
 * @param folder Where its files go: as `openWhisper` reads them.
 */
export async function downloadModel(
  publicId: string,
  folder: string,
  onProgress?: (fraction: number) => void,
): Promise<void> {
  const library = await loadLibrary();
  const { env } = library;
  const before = env.cacheDir;
  const arriving = join(folder, ARRIVING);
  env.allowRemoteModels = true;
  env.cacheDir = arriving;
  try {
    const transcriber = await library.pipeline('automatic-speech-recognition', publicId, {
      dtype: 'q8',
      device: 'cpu',
      progress_callback: (info) => {
        if (info.status === 'progress_total') onProgress?.(info.progress / 100);
      },
    });
    await transcriber.dispose();
  } finally {
    env.allowRemoteModels = false;
    env.cacheDir = before;
  }
  // The library keeps a model's files under its id.
  const arrived = join(arriving, ...publicId.split('/'));
  for (const name of await readdir(arrived)) await rename(join(arrived, name), join(folder, name));
  await rm(arriving, { recursive: true, force: true });
}
