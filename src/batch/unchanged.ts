import { stat } from 'node:fs/promises';
import { PersonError } from '../basics/problem.ts';

/** A recording is begun anew so often where it was replaced meanwhile. */
const MOST_TRIES = 5;

/**
 * Does some work on a file, and does it again where the file was replaced or written to meanwhile: what is made of half the
 * old and half the new is made of nothing.
 *
 * @returns What the work gave, and how often it was begun anew.
 * @throws PersonError where the file does not come to rest.
 */
export async function whileUnchanged<T>(
  path: string,
  work: () => Promise<T>,
): Promise<{ value: T; again: number }> {
  for (let again = 0; again < MOST_TRIES; again++) {
    const before = await markOf(path);
    const done = await work().then(
      (value) => ({ value }),
      (error: unknown) => ({ error }),
    );
    const after = await markOf(path);
    const same = before === after;
    if ('value' in done && same) return { value: done.value, again };
    // What fails on a file that was replaced under it says nothing of the new one; that there is none says enough.
    if ('error' in done && (same || after === null)) throw done.error;
  }
  throw new PersonError(`${path} was changed each time it was read: read it again when it is finished.`);
}

/** What changes with a file's content on every file system; null where there is no file. */
async function markOf(path: string): Promise<string | null> {
  const found = await stat(path, { bigint: true }).catch(() => null);
  return found && `${found.size} ${found.mtimeNs} ${found.ino}`;
}
