import { constants } from 'node:fs';
import { access, mkdir, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import { systemCode, writingFault } from '../basics/system-message.ts';

/**
 * Looks whether files can be written into a folder, before long work whose result would have no place. A folder that does
 * not exist is fine where the one around it does.
 *
 * @throws PersonError that says why not and what to do.
 */
export async function checkOutputFolder(folder: string): Promise<void> {
  const there = await isFolder(folder);
  const around = dirname(resolve(folder));
  if (!there && !(await isFolder(around))) {
    throw new PersonError(`There is no folder ${around}: make it first, or give another folder with --out.`);
  }
  const written = there ? folder : around;
  await access(written, constants.W_OK | constants.X_OK).catch((error: unknown) => {
    throw writingFault(error, written);
  });
}

/** Makes the folder where it is missing. */
export async function makeOutputFolder(folder: string): Promise<void> {
  await mkdir(folder).catch(async (error: unknown) => {
    if (systemCode(error) === 'EEXIST' && (await isFolder(folder))) return;
    throw writingFault(error, folder);
  });
}

async function isFolder(path: string): Promise<boolean> {
  try {
    if ((await stat(path)).isDirectory()) return true;
  } catch (error) {
    if (systemCode(error) === 'ENOENT') return false;
    throw writingFault(error, path);
  }
  throw new PersonError(`${path} is a file, not a folder: give a folder with --out.`);
}
