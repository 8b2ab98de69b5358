import { access } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { parseRecord } from '../basics/json-record.ts';
import { type KnownShot, knownShotSchema, shotSchema } from '../basics/shot.ts';
import { recordingName } from '../sheet/file-names.ts';
import { readText } from './read-text.ts';

/** The shot file beside a recording: NAME.shot.json, else shot.json; null where there is neither. */
export async function findShotFile(recording: string): Promise<string | null> {
  for (const name of [`${recordingName(recording)}.shot.json`, 'shot.json']) {
    const path = join(dirname(recording), name);
    const isThere = await access(path).then(
      () => true,
      () => false,
    );
    if (isThere) return path;
  }
  return null;
}

/**
 * Reads what a person wrote of the shot. What is left out stays open, for the recording or other settings to give.
 *
 * @throws PersonError that names the file, the key or the line, and what to do.
 */
export async function readShotFile(path: string): Promise<KnownShot> {
  const text = await readText(path);
  const kind = { what: 'a shot file', advice: `Mend ${path}, or give another with --shot.` };
  // By itself it must make a whole shot, so that a slip is told of where it was made.
  parseRecord(text, basename(path), shotSchema, kind);
  return parseRecord(text, basename(path), knownShotSchema, kind);
}
