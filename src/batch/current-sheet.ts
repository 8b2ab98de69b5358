import { readFile, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { shotSchema } from '../basics/shot.ts';
import { loadWriters } from '../files/load-writers.ts';
import { holdsWordsAlone } from '../files/words-file.ts';
import { recordingName, writtenName } from '../sheet/file-names.ts';
import { labels, readSheet } from '../sheet/read-sheet.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { DEFAULT_MODEL } from '../transcript/models/catalogue.ts';
import { sha256OfFile } from '../transcript/models/manifest.ts';
import { type ReadJob, writtenFormats } from './read-job.ts';
import { readWithOf } from './read-with.ts';
import { shotOf } from './shot-of-job.ts';

/**
 * Whether a job is done already: a sheet lies there of the same content, heard by the same model, of a shot that is
 * described alike, read with the same settings, and every format is written.
 *
 * @throws PersonError where the shot file or a writer cannot be used; the system's error where another file cannot be read.
 */
export async function hasCurrentSheet(job: ReadJob): Promise<boolean> {
  const { folder, recording } = job;
  if (folder === null) return false;
  const name = recordingName(recording);
  let sha256: string | undefined;
  for (let number = 1; ; number++) {
    const file = writtenName(name, SHEET_AND_TRANSCRIPT_WRITERS.json?.ending ?? '', number);
    const text = await readFile(join(folder, file), 'utf8').catch(() => null);
    if (text === null) return false;
    sha256 ??= await sha256OfFile(recording);
    if (labels(text)?.sha256 !== sha256) continue;
    return (await fits(sheetOrNull(text, file), job)) && (await allWritten(job, folder, name, number));
  }
}

async function fits(sheet: Sheet | null, job: ReadJob): Promise<boolean> {
  if (!sheet) return false;
  const { shot } = await shotOf(job);
  const wanted = shotSchema.parse({ ...shot, name: shot.name ?? recordingName(job.recording) });
  const { name, fps, first, last, characters, dialogue } = sheet.shot;
  const isSameShot = isDeepStrictEqual(
    wanted,
    shotSchema.parse({ name, fps, first, last, characters, dialogue }),
  );
  const isHeardAlike =
    holdsWordsAlone(job.recording) || sheet.model.id === modelId(job.model ?? DEFAULT_MODEL);
  return isSameShot && isHeardAlike && isDeepStrictEqual(await readWithOf(job), sheet.readWith ?? {});
}

function modelId(model: string): string {
  return /[/\\]/.test(model) ? basename(resolve(model)) : model;
}

async function allWritten(job: ReadJob, folder: string, name: string, number: number): Promise<boolean> {
  const outside = await loadWriters(job.writers ?? []);
  const writers = { ...SHEET_AND_TRANSCRIPT_WRITERS, ...outside };
  for (const format of [...writtenFormats(job), ...Object.keys(outside)]) {
    const ending = writers[format]?.ending ?? '';
    const there = await stat(join(folder, writtenName(name, ending, number))).catch(() => null);
    if (!there) return false;
  }
  return true;
}

function sheetOrNull(text: string, file: string): Sheet | null {
  try {
    return readSheet(text, file);
  } catch {
    return null;
  }
}
