import { stat } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { type FSWatcher, watch } from 'chokidar';
import { PersonError } from '../basics/problem.ts';
import { systemCode } from '../basics/system-message.ts';
import { looksLikeRecording } from './recording-files.ts';

export interface ArrivalOptions {
  /** The folders in the folder too. */
  readonly nested: boolean;
  /** Look again and again in place of waiting to be told: network folders tell nothing of what other machines do. */
  readonly poll: boolean;
  readonly signal: AbortSignal;
  /** A recording is there, or was changed. */
  readonly onFile: (path: string) => void;
  /** The folder itself vanished, or is back. */
  readonly onFolder: (there: boolean) => void;
}

const LOOK_MILLISECONDS = 1000;
/** A folder on a network that is down may not answer at all. */
const ANSWER_MILLISECONDS = 10_000;

/**
 * Tells of each recording that is in a folder, that lands there or is changed, until it is aborted. A folder that vanishes
 * is waited for.
 *
 * @throws PersonError where the system cannot watch it.
 */
export async function watchArrivals(folder: string, options: ArrivalOptions): Promise<void> {
  const { signal, onFolder } = options;
  let watching: { watcher: FSWatcher; place: string } | null = null;
  let fault: unknown;
  const open = (place: string) => {
    const watcher = openWatcher(folder, options, (error) => {
      fault = watchingFault(error, folder);
    });
    return { watcher, place };
  };
  try {
    for (;;) {
      const place = await placeOf(folder);
      // A folder that was made anew is another one, and what was told of the old one says nothing of it.
      if (watching && watching.place !== place) {
        await watching.watcher.close();
        watching = null;
        onFolder(false);
        if (place !== null) onFolder(true);
      } else if (!watching && place !== null && fault === undefined) {
        onFolder(true);
      }
      if (!watching && place !== null) watching = open(place);
      await pause(LOOK_MILLISECONDS, undefined, { signal });
      if (fault) throw fault;
    }
  } catch (error) {
    if (!signal.aborted) throw error;
  } finally {
    await watching?.watcher.close();
  }
}

function openWatcher(
  folder: string,
  { nested, poll, onFile }: ArrivalOptions,
  onError: (error: unknown) => void,
): FSWatcher {
  const root = resolve(folder);
  return watch(folder, {
    ignored: (path, stats) =>
      resolve(path) !== root &&
      (/^[.~]/.test(basename(path)) || (stats?.isFile() === true && !looksLikeRecording(path))),
    ...(!nested && { depth: 0 }),
    usePolling: poll,
    interval: LOOK_MILLISECONDS,
    binaryInterval: LOOK_MILLISECONDS,
    ignorePermissionErrors: true,
  })
    .on('add', onFile)
    .on('change', onFile)
    .on('error', onError);
}

/** What tells a folder from another of its name; null where it is not there. */
async function placeOf(folder: string): Promise<string | null> {
  const answer = new AbortController();
  const late = pause(ANSWER_MILLISECONDS, null, { ref: false, signal: answer.signal }).catch(() => null);
  const found = await Promise.race([stat(folder).catch(() => null), late]);
  answer.abort();
  return found?.isDirectory() ? `${found.dev} ${found.ino}` : null;
}

/** What goes wrong while a folder vanishes is told by its being gone. */
function watchingFault(error: unknown, folder: string): unknown {
  if (!['ENOSPC', 'EMFILE', 'ENFILE'].includes(systemCode(error) ?? '')) return undefined;
  return new PersonError(
    `The system lets no more folders be watched than it does already, so ${folder} cannot be: watch it with --poll.`,
  );
}
