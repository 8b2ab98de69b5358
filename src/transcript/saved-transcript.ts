import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { parseRecord } from '../basics/json-record.ts';
import type { Problem } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import { type Transcript, transcriptSchema } from './transcript.ts';

/**
 * Reads a transcript that was saved as JSON.
 *
 * @throws PersonError where the file cannot be read or is no transcript.
 */
export async function readSavedTranscript(
  path: string,
): Promise<{ transcript: Transcript; problems: Problem[] }> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
  return { transcript: parseTranscript(text, basename(path)), problems: [] };
}

/**
 * Reads a transcript from the text of its file.
 *
 * @param file The name that messages give.
 * @throws PersonError where the text is no transcript.
 */
export function parseTranscript(text: string, file: string): Transcript {
  return parseRecord(text, file, transcriptSchema, {
    what: 'a saved transcript',
    advice: 'Give the JSON file that the transcribe command wrote.',
  });
}
