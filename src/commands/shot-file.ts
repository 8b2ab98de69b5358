import { access, readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { parseRecord } from '../basics/json-record.ts';
import { type Shot, shotSchema } from '../basics/shot.ts';
import { readingFault } from '../basics/system-message.ts';
import { recordingName } from '../sheet/file-names.ts';

/** A shot as a person described it; a name that is left out stays open, for the recording to give. */
export type ShotFile = Omit<Shot, 'name'> & { readonly name: string | undefined };

const nameSchema = z.looseObject({ name: z.string().optional() });

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
 * Reads what a person wrote of the shot.
 *
 * @throws PersonError that names the file, the key or the line, and what to do.
 */
export async function readShotFile(path: string): Promise<ShotFile> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
  const kind = { what: 'a shot file', advice: `Mend ${path}, or give another with --shot.` };
  const shot = parseRecord(text, basename(path), shotSchema, kind);
  return { ...shot, name: parseRecord(text, basename(path), nameSchema, kind).name };
}
