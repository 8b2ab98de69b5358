import { cacheFolder } from './cache-folder.ts';
import { MODELS, type ModelEntry } from './catalogue.ts';
import { checkFolder } from './manifest.ts';
import { modelFolderPath } from './model-folder.ts';

/**
 * Whether a model can be used: 'ready' (on this machine and whole), 'embedded' (comes with critsheet, its folder is made
 * on first use), 'damaged' (a file is missing or altered), 'absent' (must be prepared first).
 */
export type ModelState = 'ready' | 'embedded' | 'damaged' | 'absent';

/** A line of `critsheet models`. */
export interface ModelStatus extends ModelEntry {
  readonly folder: string;
  readonly state: ModelState;
  /** Whether every file has its checksum; null where there is nothing to check. */
  readonly checksumOk: boolean | null;
}

/** Looks at every known model on this machine. Reads the whole files, so it takes a second for a large one; makes nothing. */
export async function modelStatus(options: { cacheDir?: string } = {}): Promise<ModelStatus[]> {
  const cacheDir = options.cacheDir ?? cacheFolder();
  return Promise.all(
    MODELS.map(async (model) => {
      const folder = modelFolderPath(model.id, cacheDir);
      const found = await checkFolder(folder, model.id);
      const missing = model.family === 'moonshine' ? 'embedded' : 'absent';
      const state: ModelState = found === 'sound' ? 'ready' : found === 'absent' ? missing : 'damaged';
      return { ...model, folder, state, checksumOk: found === 'absent' ? null : found === 'sound' };
    }),
  );
}
