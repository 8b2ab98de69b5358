import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { TRANSCRIPT_WRITERS, transcriptOf } from '../../src/sheet/writers/writers.ts';
import { savedSheet } from '../sheet/saved-sheet.ts';

/**
 * Puts a saved transcript into a folder: a recording that needs no model to be read.
 *
 * @param sha256 Stands for which recording it was.
 */
export async function putTranscript(
  folder: string,
  name = 'take3',
  sha256 = 'ab'.repeat(32),
): Promise<string> {
  const transcript = transcriptOf(savedSheet());
  const text = TRANSCRIPT_WRITERS.json?.write({
    ...transcript,
    recording: { ...transcript.recording, file: `${name}.wav`, sha256 },
  });
  const path = join(folder, `${name}.transcript.json`);
  await writeFile(path, text ?? '');
  return path;
}
