import { join, resolve } from 'node:path';
import lockfile from 'proper-lockfile';
import { systemCode, writingFault } from '../basics/system-message.ts';
import { makeOutputFolder } from '../files/output-folder.ts';
import { recordingName } from '../sheet/file-names.ts';

/** After so long without a sign of life a claim was left behind by a program that was killed, and is taken over. */
const STALE_MILLISECONDS = 10_000;

/** The right to make the sheets of one name in one folder, until it is given back. */
export interface Claim {
  release(): Promise<void>;
}

/**
 * Claims what a recording's files are called in a folder, against other processes and this one. While it is held, a hidden
 * folder stands there.
 *
 * @returns null where somebody else holds it.
 * @throws PersonError where the folder cannot be written.
 */
export async function claim(recording: string, folder: string): Promise<Claim | null> {
  await makeOutputFolder(folder);
  const name = recordingName(recording);
  const path = resolve(folder, name);
  try {
    const release = await lockfile.lock(path, {
      realpath: false,
      lockfilePath: join(resolve(folder), `.${name}.critsheet-lock`),
      stale: STALE_MILLISECONDS,
      // A folder that vanished takes its claims along. The work goes on: its files are whole or not there in any case.
      onCompromised: () => undefined,
    });
    return { release: () => release().catch(() => undefined) };
  } catch (error) {
    if (systemCode(error) === 'ELOCKED') return null;
    throw writingFault(error, path);
  }
}
