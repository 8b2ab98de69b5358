import { readdir, rm, rmdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { cacheFolder } from '../transcript/models/cache-folder.ts';

/** One kept result on disk, or what a killed process left of one. */
export interface Entry {
  readonly kind: string;
  readonly path: string;
  /** What it takes of the disk, which gives out whole blocks. */
  readonly bytes: number;
  /** Milliseconds since 1970. */
  readonly usedAt: number;
  /** False for the beginning of a file that was never finished. */
  readonly whole: boolean;
}

const BLOCK_BYTES = 4096;
const WHOLE = /^[0-9a-f]{64}[.]json$/;
/** What a file is called before it is whole (`writeAside`). */
const UNFINISHED = /^[.][0-9a-f]{64}[.]json[.][0-9a-f]{8}[.]part$/;

/** Where results are kept. Raise the number when files of another form are kept there. */
export function resultsFolder(cacheDir: string = cacheFolder()): string {
  return join(cacheDir, 'results', '1');
}

/** Blocks that a file of so many bytes takes, in bytes. */
export function bytesOnDisk(bytes: number): number {
  return Math.ceil(bytes / BLOCK_BYTES) * BLOCK_BYTES;
}

/** Every entry of the folder; none where it is not there. Files that are not ours are left out. */
export async function listEntries(folder: string): Promise<Entry[]> {
  const kinds = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const entries: Entry[] = [];
  for (const kind of kinds) {
    if (!kind.isDirectory()) continue;
    for (const name of await readdir(join(folder, kind.name)).catch(() => [])) {
      if (!WHOLE.test(name) && !UNFINISHED.test(name)) continue;
      const path = join(folder, kind.name, name);
      // Another process may have removed it meanwhile.
      const found = await stat(path).catch(() => null);
      if (!found) continue;
      const bytes = bytesOnDisk(found.size);
      entries.push({ kind: kind.name, path, bytes, usedAt: found.mtimeMs, whole: WHOLE.test(name) });
    }
  }
  return entries;
}

/**
 * Removes every entry, and folders that are empty then.
 *
 * @returns What was removed.
 * @throws The system's error where one cannot be removed.
 */
export async function clearEntries(folder: string): Promise<Entry[]> {
  const entries = await listEntries(folder);
  for (const { path } of entries) await rm(path, { force: true });
  const kinds = new Set(entries.map(({ kind }) => join(folder, kind)));
  for (const empty of [...kinds, folder]) await rmdir(empty).catch(() => undefined);
  return entries;
}
