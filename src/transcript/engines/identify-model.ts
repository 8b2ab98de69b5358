import { createHash } from 'node:crypto';
import { readdir, stat } from 'node:fs/promises';
import { basename, join, relative, resolve, sep } from 'node:path';
import { findModel } from '../models/catalogue.ts';
import { modelChecksum, sha256OfFile } from '../models/manifest.ts';
import { ensureModelFolder, modelFolderPath } from '../models/model-folder.ts';
import type { ModelRef } from '../transcript.ts';

/** Which model is meant, known without loading it. */
export interface ModelIdentity {
  /** As it will stand in the transcript. */
  readonly ref: ModelRef;
  /** One checksum, in hex, of the files that it is made of. */
  readonly content: string;
}

/**
 * Says which model is meant.
 *
 * @param model As `openEngine` takes it.
 * @returns Null for a saved transcript, which is played back and is no model.
 * @throws PersonError for an id nobody knows, or a model that has to be prepared first.
 */
export async function identifyModel(model: string): Promise<ModelIdentity | null> {
  const given = await stat(model).catch(() => null);
  if (given?.isFile()) return null;
  if (given?.isDirectory()) {
    const folder = resolve(model);
    const ref = { id: basename(folder), sha256: await modelChecksum(folder) };
    // A person may have changed what lies in a folder of their own, whatever a list beside it says.
    return { ref, content: await checksumOfFiles(folder) };
  }
  const { id } = findModel(model);
  // The list of a folder of ours is enough: whoever loads the model checks its files against it.
  const sha256 =
    (await modelChecksum(modelFolderPath(id))) ?? (await modelChecksum(await ensureModelFolder(id)));
  return sha256 === null ? null : { ref: { id, sha256 }, content: sha256 };
}

async function checksumOfFiles(folder: string): Promise<string> {
  const hash = createHash('sha256');
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter((entry) => !entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  for (const path of paths)
    hash.update(`${await sha256OfFile(path)}  ${relative(folder, path).split(sep).join('/')}\n`);
  return hash.digest('hex');
}
