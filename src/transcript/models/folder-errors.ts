import { PersonError } from '../../basics/problem.ts';

const REFUSED: ReadonlySet<string> = new Set(['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'EEXIST', 'ENOENT']);

/**
 * Turns a failed write into the model cache into a sentence that says what to do; anything else stays as it is.
 *
 * @param error What was thrown.
 * @param folder The folder that was written to.
 */
export function mendable(error: unknown, folder: string): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOSPC' || code === 'EDQUOT') {
    return new PersonError(
      `The disk is full: the speech model could not be written to ${folder}; free some space there.`,
    );
  }
  if (REFUSED.has(code)) {
    return new PersonError(
      `The speech model could not be written to ${folder} (${code}): make the folder writable, or set CRITSHEET_CACHE to one that is.`,
    );
  }
  return error;
}
