import { stat } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';

/** A file is looked at so often while it is waited for. */
const LOOKS = 4;

/**
 * Waits until a file has been let alone for a while: its size and the time of its last change stand still, and it is not
 * empty. While it is still being copied they do not.
 *
 * @param quietMilliseconds How long nothing may happen to it.
 * @returns false where the file is gone.
 * @throws The signal's reason where it was aborted.
 */
export async function settled(
  path: string,
  quietMilliseconds: number,
  signal?: AbortSignal,
): Promise<boolean> {
  let before = '';
  for (let still = 0; still < LOOKS; ) {
    const found = await stat(path, { bigint: true }).catch(() => null);
    if (!found) return false;
    const now = `${found.size} ${found.mtimeNs} ${found.ino}`;
    still = now === before && found.size > 0n ? still + 1 : 0;
    before = now;
    if (still < LOOKS) await pause(quietMilliseconds / LOOKS, undefined, { signal });
  }
  return true;
}
