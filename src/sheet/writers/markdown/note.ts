import { minutesStamp } from '../../../basics/time.ts';
import type { Note } from '../../../notes/note.ts';
import type { Previous } from '../../previous.ts';
import type { Sheet } from '../../sheet.ts';
import { askedBefore } from '../asked.ts';
import { heardAs } from '../heard-as.ts';
import { amountOfNote, faultOfNote, framesOfNote, placeOfNote, weightOfNote } from '../wording.ts';
import { escapeMarkdown } from './escape.ts';

/** What of the sheet a note is told with. */
type Told = Pick<Sheet, 'shot' | 'words'>;

/** A note in full: its title as a heading, then a line for each thing known of it. Nothing is printed for what is not. */
export function noteInFull(note: Note, { shot, words }: Told, previous?: Previous): string {
  const place = placeOfNote(note);
  const asked = askedBefore(previous, note.id);
  const fields: [string, string | null][] = [
    ['Frames', framesOfNote(note, shot)],
    ['Where', place && escapeMarkdown(place)],
    ['Fault', faultOfNote(note)],
    ['Amount', amountOfNote(note)],
    ['Meant', weightOfNote(note)],
    ['Asked for', asked && escapeMarkdown(asked)],
    ['Ways out', note.options.map(escapeMarkdown).join(' / ') || null],
    ['Why here', note.priority.reasons.map(escapeMarkdown).join(', ') || null],
    ['Look at', note.check.map(escapeMarkdown).join('; ') || null],
  ];
  return [heading(note), '', ...known(fields), ...heardLines(note, words)].join('\n');
}

/** A thing to leave alone: what, where, and the words. */
export function noteToKeep(note: Note, { shot, words }: Told): string {
  const place = placeOfNote(note);
  const fields: [string, string | null][] = [
    ['Frames', note.frames ? framesOfNote(note, shot) : null],
    ['Where', place && escapeMarkdown(place)],
    ['Look at', note.check.map(escapeMarkdown).join('; ') || null],
  ];
  return [heading(note), '', ...known(fields), ...heardLines(note, words)].join('\n');
}

/** A note taken back: its title and the words, the taking back among them. */
export function noteTakenBack(note: Note, { words }: Told): string {
  return [heading(note), '', ...heardLines(note, words)].join('\n');
}

function heading(note: Note): string {
  return `### ${note.rank}. ${escapeMarkdown(note.title)}`;
}

function known(fields: readonly [string, string | null][]): string[] {
  return fields.flatMap(([name, value]) => (value === null ? [] : [`- ${name}: ${value}`]));
}

function heardLines(note: Note, words: Sheet['words']): string[] {
  return note.spans.map((span) => {
    const told = heardAs(words, span).map(escapeMarkdown).join(', ');
    return quoteLine(span.start, span.text) + (told && ` (${told})`);
  });
}

/** The words of a stretch of the recording with the time where they begin: '- At 0:12.4: "hold that"'. */
export function quoteLine(start: number, text: string): string {
  return `- At ${minutesStamp(start)}: "${escapeMarkdown(text)}"`;
}
