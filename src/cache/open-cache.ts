import { mkdir, readFile, rm, utimes } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Ingredients, Kept, KeptKind } from '../basics/kept.ts';
import { messageOf } from '../basics/problem.ts';
import { writeAside } from '../files/write-whole.ts';
import { Bound } from './bound.ts';
import { bytesOnDisk, resultsFolder } from './entries.ts';
import { entryId, entryText, resultOf } from './entry.ts';

/** One thousand million: about a thousand hours of talk, whose words take some 0.8 MB each. */
export const MOST_BYTES = 1_000_000_000;

export interface CacheOptions {
  /** The cache folder, in place of the platform's. */
  readonly cacheDir?: string | undefined;
  /** How many bytes of the disk it may take; a thousand million where it is left out. */
  readonly mostBytes?: number | undefined;
  /** Is told once, in one sentence, where results cannot be kept; the work goes on without. */
  readonly onTrouble?: ((message: string) => void) | undefined;
}

/** What was said lies here: nobody else on the machine may read it. */
const OWN_FOLDER = 0o700;
const OWN_FILE = 0o600;

/**
 * Opens the folder of kept results. Any number of processes and threads may use one folder at once: an entry is
 * written aside and moved into place, carries a checksum, and is the same whoever makes it.
 */
export function openCache({ cacheDir, mostBytes = MOST_BYTES, onTrouble }: CacheOptions = {}): Kept {
  const folder = resultsFolder(cacheDir);
  const bound = new Bound(folder, mostBytes);
  const pathOf = <T>(kind: KeptKind<T>, of: Ingredients) =>
    join(folder, kind.name, `${entryId(kind, of)}.json`);
  let troubled = false;

  async function write(path: string, text: string): Promise<void> {
    await makeOwnFolder(dirname(path), folder);
    // Not flushed: a file that a power cut tore has no checksum that fits, and is made again.
    await writeAside(path, text, { mode: OWN_FILE, flushed: false });
  }

  return {
    async get(kind, of) {
      const path = pathOf(kind, of);
      const text = await readFile(path, 'utf8').catch(() => undefined);
      if (text === undefined) return undefined;
      const result = resultOf(kind, text);
      if (result === undefined) await rm(path, { force: true }).catch(() => undefined);
      else await touch(path);
      return result;
    },
    async put(kind, of, result) {
      const path = pathOf(kind, of);
      try {
        const text = entryText(kind, result);
        const bytes = bytesOnDisk(Buffer.byteLength(text));
        if (bytes > mostBytes) return;
        await bound.makeRoomFor(bytes);
        // The folder may be cleared between its making and the writing: once is enough, twice is another trouble.
        await write(path, text).catch(() => write(path, text));
      } catch (error) {
        if (!troubled) onTrouble?.(sentence(error, folder));
        troubled = true;
      }
    },
    async drop(kind, of) {
      await rm(pathOf(kind, of), { force: true }).catch(() => undefined);
    },
  };
}

/** When it was used last is when its file was changed last. */
async function touch(path: string): Promise<void> {
  const now = new Date();
  await utimes(path, now, now).catch(() => undefined);
}

/** The cache folder itself is made as others are: models lie there too, and are no secret. */
async function makeOwnFolder(path: string, results: string): Promise<void> {
  await mkdir(dirname(dirname(results)), { recursive: true });
  await mkdir(path, { recursive: true, mode: OWN_FOLDER });
}

function sentence(error: unknown, folder: string): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : messageOf(error);
  const why = code === 'ENOSPC' || code === 'EDQUOT' ? 'the disk is full' : code;
  return `What was heard could not be kept in ${folder} (${why}), so it will be heard again next time: free space there, make the folder writable, or set CRITSHEET_CACHE to another.`;
}
