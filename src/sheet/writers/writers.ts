import type { Transcript } from '../../transcript/transcript.ts';
import type { Sheet } from '../sheet.ts';
import { writeHtml } from './html.tsx';
import { writeJson } from './json.ts';
import { writeMarkdown } from './markdown.ts';
import { writeSrt } from './srt.ts';
import { writeText } from './text.ts';
import { writeVtt } from './vtt.ts';

/** One written form of a record. To add one: a file beside this one, and one line in the table it belongs to. */
export interface Writer<T> {
  /** What the file's name ends with, after the recording's name. */
  readonly ending: string;
  /** What it is for, in a few words. */
  readonly says: string;
  /** What of the record it cannot hold; null where it holds everything. */
  readonly leavesOut: string | null;
  write(record: T): string;
  /** Whether a text is one that was written so and not edited since, where the text alone can tell. */
  owns?(text: string): boolean;
}

/** What a sheet can be written as, by format. */
export const SHEET_WRITERS: Readonly<Record<string, Writer<Sheet>>> = {
  json: {
    ending: '.sheet.json',
    says: 'the whole sheet, for programs',
    leavesOut: null,
    write: (sheet) => writeJson(sheet, ['words', 'statements']),
  },
  md: {
    ending: '.sheet.md',
    says: 'the sheet to read and print',
    leavesOut: "the words' own times and the confidences",
    write: writeMarkdown,
  },
  html: {
    ending: '.sheet.html',
    says: 'the page to work from, with the sound',
    leavesOut: 'the confidences; sound, pictures and script, which the commands add',
    write: (sheet) => writeHtml(sheet),
  },
};

/** What a transcript can be written as, by format. */
export const TRANSCRIPT_WRITERS: Readonly<Record<string, Writer<Transcript>>> = {
  json: {
    ending: '.transcript.json',
    says: 'every word with its times, which "read" takes in place of the recording',
    leavesOut: null,
    write: (transcript) => writeJson(transcript, ['words']),
  },
  vtt: {
    ending: '.vtt',
    says: 'captions (WebVTT)',
    leavesOut: "the words' own times and the confidences",
    write: writeVtt,
  },
  srt: {
    ending: '.srt',
    says: 'captions (SubRip)',
    leavesOut: "the words' own times and the confidences",
    write: writeSrt,
  },
  txt: { ending: '.txt', says: 'the words alone', leavesOut: 'all times and confidences', write: writeText },
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
