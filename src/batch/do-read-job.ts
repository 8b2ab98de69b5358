import { dirname, join } from 'node:path';
import type { Problem } from '../basics/problem.ts';
import { cacheOf } from '../cache/run-cache.ts';
import type { OlderSheet } from '../comparison/with-previous.ts';
import type { Corrections } from '../corrections/corrections.ts';
import { readGlossaryFile } from '../files/glossary-file.ts';
import { loadWriters, workingWriters } from '../files/load-writers.ts';
import { type Placed, placeFiles } from '../files/place-files.ts';
import { holdsWordsAlone } from '../files/words-file.ts';
import type { Progress } from '../pipeline.ts';
import { recordingName } from '../sheet/file-names.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { sheetInShort } from '../sheet/sort-notes.ts';
import type { Writer } from '../sheet/writers/writer.ts';
import { beforeReading } from './before-reading.ts';
import { appliedNotice } from './corrections-notice.ts';
import { type ReadJob, type ReadResult, writtenFormats } from './read-job.ts';
import { readWithOf } from './read-with.ts';
import { shotOf } from './shot-of-job.ts';
import { whileUnchanged } from './unchanged.ts';

export interface Watch {
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

/**
 * Reads one recording and writes its files, each whole or not at all. Prints nothing and leans on nothing but the job.
 *
 * @returns The sheet, and what came of it as plain JSON.
 * @throws PersonError that says what to mend; the signal's reason where it was aborted. No file is written then.
 */
export async function doReadJob(
  job: ReadJob,
  { signal, onProgress }: Watch = {},
): Promise<{ sheet: Sheet; result: ReadResult }> {
  const { recording, folder, model, shotSound, playhead, counter } = job;
  const glossary = job.glossary ? await readGlossaryFile(job.glossary) : undefined;
  await beforeReading({ inputs: [recording, shotSound, playhead], model, folder });
  const outside = await loadWriters(job.writers ?? []);
  const { shot, found } = await shotOf(job);
  const previous = await previousOf(job);
  // Before it is read: what a file says when it is changed meanwhile is another reading's.
  const readWith = await readWithOf(job);
  const corrections = await correctionsBeside(recording, folder ?? dirname(recording));
  const { readCritique } = await import('../pipeline.ts');
  const { kept, troubles } = cacheOf(job);
  const reading = () =>
    readCritique(recording, {
      shot,
      glossary,
      passes: { shotSound, playhead, counter },
      corrections,
      previous,
      model,
      kept,
      signal,
      onProgress,
    });
  const { value, again } = await whileUnchanged(recording, reading);
  const sheet: Sheet = Object.keys(readWith).length > 0 ? { ...value.sheet, readWith } : value.sheet;
  const { problems } = value;
  const { paths, notices, problems: pageless } = await write(job, sheet, outside, signal);
  const all = [...problems, ...pageless];
  return {
    sheet,
    result: {
      recording,
      sha256: sheet.recording.sha256,
      summary: sheetInShort(sheet),
      written: [...paths],
      notices: [
        ...(found ? [`the shot is described by ${found}, found beside the recording.`] : []),
        ...(again > 0 ? [`${recording} was replaced while it was read, and was read again.`] : []),
        ...appliedNotice(corrections, sheet, problems),
        ...all.map(({ message }) => message),
        ...troubles,
        ...notices,
      ],
      problems: all,
    },
  };
}

async function previousOf({ previous, ticks }: ReadJob): Promise<OlderSheet | undefined> {
  if (previous === undefined) return undefined;
  const { loadOlderSheet } = await import('../files/older-sheet.ts');
  return loadOlderSheet(previous, ticks);
}

/** What a person corrected of an earlier sheet of this recording, which lies where the new one will. */
async function correctionsBeside(recording: string, folder: string): Promise<Corrections | undefined> {
  const { CORRECTIONS_ENDING, loadCorrectionsOfAny } = await import('../page/corrections-file.ts');
  const path = join(folder, `${recordingName(recording)}${CORRECTIONS_ENDING}`);
  return (await loadCorrectionsOfAny(path)) ?? undefined;
}

async function write(
  job: ReadJob,
  sheet: Sheet,
  outside: Readonly<Record<string, Writer<Sheet>>>,
  signal: AbortSignal | undefined,
): Promise<Placed & { problems: readonly Problem[] }> {
  const { recording, folder } = job;
  if (folder === null) return { paths: [], notices: [], problems: [] };
  const { readSheet } = await import('../sheet/read-sheet.ts');
  const { uncorrect } = await import('../corrections/correctable.ts');
  const { writersFor } = await import('../page/page-writers.ts');
  const { working, messages } = workingWriters(outside, sheet);
  const formats = [...writtenFormats(job), ...Object.keys(working)];
  const { writers, problems } = await writersFor({
    sheet,
    formats,
    wish: job,
    folder: dirname(recording),
    recording: holdsWordsAlone(recording) ? undefined : recording,
    out: folder,
    signal,
  });
  signal?.throwIfAborted();
  const placed = await placeFiles({
    record: sheet,
    formats,
    writers: { ...writers, ...working },
    folder,
    name: recordingName(recording),
    reread: readSheet,
    uncorrect,
  });
  return { ...placed, notices: [...messages, ...placed.notices], problems };
}
