import { PersonError } from './problem.ts';

/** The code of a file system's error, as 'ENOENT'; null for anything else. */
export function systemCode(error: unknown): string | null {
  const code = error instanceof Error && 'code' in error ? error.code : null;
  return typeof code === 'string' && /^E[A-Z0-9]+$/.test(code) ? code : null;
}

const READING: Readonly<Record<string, string>> = {
  ENOENT: 'There is no file {path}: check the name and the folder.',
  EISDIR: '{path} is a folder: give one file in it.',
  ENOTDIR: 'There is no file {path}: a part of that path is a file and not a folder.',
  EACCES: '{path} may not be read by you: change its permissions, or copy it.',
  EPERM: '{path} may not be read by you: change its permissions, or copy it.',
};

const WRITING: Readonly<Record<string, string>> = {
  ENOSPC: 'The disk is full, so {path} was not written: free some space, or give another folder with --out.',
  EDQUOT:
    'Your share of the disk is full, so {path} was not written: free some space, or give another folder with --out.',
  EFBIG: 'The disk takes no file this large, so {path} was not written: give another folder with --out.',
  EACCES: '{path} may not be written by you: give another folder with --out.',
  EPERM: '{path} may not be written by you: give another folder with --out.',
  EROFS: '{path} is on a disk that can only be read: give another folder with --out.',
  ENOENT: 'The folder of {path} does not exist: make it first, or give another folder with --out.',
  ENOTDIR: 'The folder of {path} is a file: give a folder with --out.',
  EEXIST: 'The folder of {path} is a file: give a folder with --out.',
  EISDIR: '{path} is a folder: give another folder with --out.',
  ENAMETOOLONG:
    'The name {path} is too long for this disk: rename the recording, or give another folder with --out.',
  EIO: 'The disk failed while {path} was written: give another folder with --out.',
};

function sentence(table: Readonly<Record<string, string>>, error: unknown, path: string): unknown {
  const text = table[systemCode(error) ?? ''];
  return text ? new PersonError(text.replace('{path}', () => path)) : error;
}

/** What to throw where a file could not be read: a sentence for a person where the cause is known, else the error itself. */
export function readingFault(error: unknown, path: string): unknown {
  return sentence(READING, error, path);
}

/** The same for a file or folder that could not be written. */
export function writingFault(error: unknown, path: string): unknown {
  return sentence(WRITING, error, path);
}
