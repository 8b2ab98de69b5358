import { lengthStamp } from '../../basics/time.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../sheet.ts';
import { sheetInShort, sortNotes } from '../sort-notes.ts';
import { escapeMarkdown } from './markdown/escape.ts';
import { frameStrip } from './markdown/frame-strip.ts';
import { whatWasHeard } from './markdown/heard.ts';
import { noteInFull, noteTakenBack, noteToKeep } from './markdown/note.ts';
import { sinceLastTime } from './markdown/since-last.ts';
import { frameRange } from './wording.ts';
import type { Writer } from './writer.ts';

const FIRST_COUNT = 3;

/**
 * The sheet to print: what to do first, the notes along the shot's frames, each fix in rank order, what to keep, what is optional, what is uncertain, what
 * was taken back, what became of the notes of the recording before, and what was heard beside that. A section with nothing in it is not written.
 */
export function writeMarkdown(sheet: Sheet): string {
  const sorted = sortNotes(sheet);
  const sections = [
    head(sheet),
    sheetInShort(sheet),
    section('Do first', first(sorted.fixes)),
    section('Along the shot', frameStrip(sheet, [...sorted.fixes, ...sorted.optional, ...sorted.keeps])),
    section('To change', blocks(sorted.fixes.map((note) => noteInFull(note, sheet, sheet.previous)))),
    section('To keep as it is', blocks(sorted.keeps.map((note) => noteToKeep(note, sheet)))),
    section(
      'If there is time',
      blocks(sorted.optional.map((note) => noteInFull(note, sheet, sheet.previous))),
    ),
    section('To look at, because the reading is unsure', unsure(sorted.uncertain)),
    section('Taken back', blocks(sorted.withdrawn.map((note) => noteTakenBack(note, sheet)))),
    section('Since last time', sinceLastTime(sheet)),
    sheet.words.length > 0 ? whatWasHeard(sheet) : null,
  ];
  return `${sections.filter((text) => text !== null).join('\n\n')}\n`;
}

function head({ shot, recording, model }: Sheet): string {
  const range = shot.last === null ? `from frame ${shot.first}` : `frames ${shot.first} to ${shot.last}`;
  return [
    `# ${escapeMarkdown(shot.name)}`,
    '',
    `- Recording: ${escapeMarkdown(recording.file)}, ${lengthStamp(recording.duration)} long`,
    `- Shot: ${range} at ${shot.fps} frames a second; timecode counts from the shot's first frame`,
    `- Words by: ${escapeMarkdown(model.id)}`,
  ].join('\n');
}

function first(fixes: readonly Note[]): string | null {
  return fixes.slice(0, FIRST_COUNT).map(titleLine).join('\n') || null;
}

function titleLine(note: Note): string {
  const range = frameRange(note);
  const frames = range && ` (${range.includes(' ') ? 'frames' : 'frame'} ${range})`;
  return `- Note ${note.rank}: ${escapeMarkdown(note.title)}${frames ?? ''}`;
}

function unsure(notes: readonly Note[]): string | null {
  const lines = notes.map(
    (note) =>
      `- Note ${note.rank}, ${escapeMarkdown(note.title)}: ${note.check.map(escapeMarkdown).join('; ')}`,
  );
  return lines.join('\n') || null;
}

function blocks(texts: readonly string[]): string | null {
  return texts.join('\n\n') || null;
}

function section(title: string, body: string | null): string | null {
  return body === null ? null : `## ${title}\n\n${body}`;
}

export const md: Writer<Sheet> = {
  ending: '.sheet.md',
  says: 'the sheet to read and print',
  leavesOut: "the words' own times and the confidences",
  write: writeMarkdown,
};
