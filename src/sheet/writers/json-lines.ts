import type { Sheet } from '../sheet.ts';
import type { Writer } from './writer.ts';

/**
 * The notes for programs that read line by line: one JSON object a line, in the order of ranks. Each is the note as it is in
 * the sheet, with the recording and the shot it belongs to, so that the lines of many sheets may stand in one file.
 */
export function writeJsonLines({ recording, shot, notes }: Sheet): string {
  const { file, sha256 } = recording;
  const { name, fps } = shot;
  return [...notes]
    .sort((a, b) => a.rank - b.rank)
    .map((note) => `${JSON.stringify({ recording: { file, sha256 }, shot: { name, fps }, ...note })}\n`)
    .join('');
}

export const jsonl: Writer<Sheet> = {
  ending: '.sheet.jsonl',
  says: 'one note a line, for programs',
  leavesOut: 'the words and statements that are in no note',
  write: writeJsonLines,
};
