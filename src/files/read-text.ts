import { readFile } from 'node:fs/promises';
import { readingFault, systemCode } from '../basics/system-message.ts';

/** The text of a file. @throws PersonError that names it and says what to do. */
export async function readText(path: string): Promise<string> {
  return readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
}

/** The same; null where there is no such file. */
export async function readTextIfThere(path: string): Promise<string | null> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if (['ENOENT', 'ENOTDIR'].includes(systemCode(error) ?? '')) return null;
    throw readingFault(error, path);
  }
}
