import type { Transcript } from '../../transcript/transcript.ts';
import type { Sheet } from '../sheet.ts';
import { chapters } from './chapters.ts';
import { csv } from './csv.ts';
import { html } from './html.tsx';
import { sheetJson, transcriptJson } from './json.ts';
import { jsonl } from './json-lines.ts';
import { md } from './markdown.ts';
import { otio } from './otio.ts';
import { srt } from './srt.ts';
import { txt } from './text.ts';
import { vtt } from './vtt.ts';
import type { Writer } from './writer.ts';

/** What a sheet can be written as, by format. To add one: a file beside this one, and a line here. */
export const SHEET_WRITERS: Readonly<Record<string, Writer<Sheet>>> = {
  json: sheetJson,
  md,
  html,
  csv,
  jsonl,
  otio,
  chapters,
};

/** What a transcript can be written as, by format. To add one: a file beside this one, and a line here. */
export const TRANSCRIPT_WRITERS: Readonly<Record<string, Writer<Transcript>>> = {
  json: transcriptJson,
  vtt,
  srt,
  txt,
};

/** A sheet holds its transcript, so that whatever a transcript can be written as, a sheet can be too. */
export const SHEET_AND_TRANSCRIPT_WRITERS: Readonly<Record<string, Writer<Sheet>>> = {
  ...Object.fromEntries(
    Object.entries(TRANSCRIPT_WRITERS).map(([format, writer]) => [
      format,
      { ...writer, write: (sheet: Sheet) => writer.write(transcriptOf(sheet)) },
    ]),
  ),
  ...SHEET_WRITERS,
};

/** The transcript inside a sheet. */
export function transcriptOf(sheet: Sheet): Transcript {
  const { recording, model, words } = sheet;
  return { schema: 'critsheet-transcript/1', recording, model, words };
}
