import { type FileHandle, open } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import { type SoundKind, soundKindOf, tagBytes } from './sound-kind.ts';

/** A file that may hold sound, looked at but not yet decoded. */
export interface SoundFile {
  /** Absolute, so that no decoder can take a name that begins with '-' for an option. */
  readonly path: string;
  /** Without folders, for messages. */
  readonly name: string;
  readonly bytes: number;
  readonly kind: SoundKind;
  /** Where the container begins, after an ID3 tag that some recorders put in front. */
  readonly startByte: number;
}

const HEAD_BYTES = 4096;

/**
 * Looks at the file and says what it is by its first bytes, whatever its name ends with.
 * @throws PersonError where there is no such file, it is a folder, may not be read, is empty or holds text
 */
export async function findSoundFile(path: string): Promise<SoundFile> {
  const name = basename(path);
  const file = await openFor(path, name);
  try {
    const stat = await file.stat();
    if (stat.isDirectory()) throw new PersonError(`${path} is a folder: give one recording inside it.`);
    if (!stat.isFile()) throw new PersonError(`${path} is not a file: give the recording as a file on disk.`);
    if (stat.size === 0) {
      throw new PersonError(`${name} is empty (0 bytes): record or copy it again.`);
    }
    let head = await readHead(file, 0);
    const startByte = tagBytes(head);
    if (startByte > 0) head = await readHead(file, startByte);
    const kind = soundKindOf(head, startByte > 0);
    if (kind === 'text') {
      throw new PersonError(`${name} holds text, not sound: give the recording itself.`);
    }
    if (kind === 'zeros' && stat.size <= HEAD_BYTES) {
      throw new PersonError(`${name} holds nothing but zeros: record or copy it again.`);
    }
    return { path: resolve(path), name, bytes: stat.size, kind, startByte };
  } finally {
    await file.close();
  }
}

async function openFor(path: string, name: string): Promise<FileHandle> {
  try {
    return await open(path, 'r');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      throw new PersonError(`There is no file ${path}: look at the name and the folder.`);
    }
    if (code === 'EACCES' || code === 'EPERM') {
      throw new PersonError(`${name} may not be read: give yourself permission to read ${path}.`);
    }
    if (code === 'EISDIR') throw new PersonError(`${path} is a folder: give one recording inside it.`);
    throw error;
  }
}

async function readHead(file: FileHandle, position: number): Promise<Uint8Array> {
  const head = new Uint8Array(HEAD_BYTES);
  const { bytesRead } = await file.read(head, 0, head.length, position);
  return head.subarray(0, bytesRead);
}
