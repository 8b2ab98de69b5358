import { minutesStamp } from '../../basics/time.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import {
  amountOfNote,
  faultOfNote,
  framesOfNote,
  placeOfNote,
  weightOfNote,
} from '../../sheet/writers/wording.ts';
import { wordsWithin } from '../../transcript/words-within.ts';

/** Words heard less surely than this are put in brackets. */
const FAINT = 0.6;

/** Control characters could move the cursor or recolour the screen; words from a file must not. */
const CONTROL = /[\p{Cc}\p{Cf}]/gu;

/** A note for the terminal: what was heard, what was understood, what is uncertain. */
export function describeNote(note: Note, sheet: Sheet): string {
  const lines = [
    ...note.spans.map((span) => `${minutesStamp(span.start)}  "${heard(span, sheet)}"`),
    '',
    line('where', placeOfNote(note)),
    line('fault', faultOfNote(note)),
    line('amount', amountOfNote(note)),
    line('frames', framesOfNote(note, sheet.shot)),
    line('meant', weightOfNote(note)),
    line('ranked here', note.priority.reasons.join(', ') || null),
    '',
    ...note.check.map((entry) => `? ${entry}`),
  ];
  return lines
    .filter((one) => one !== null)
    .map((one) => one.replace(CONTROL, ''))
    .join('\n');
}

function heard(span: Note['spans'][number], { words }: Sheet): string {
  const range = wordsWithin(words, span);
  if (!range) return span.text;
  return words
    .slice(range.first, range.last + 1)
    .map(({ text, confidence }) => (confidence < FAINT ? `[${text}?]` : text))
    .join(' ');
}

function line(name: string, value: string | null): string | null {
  return value === null ? null : `${name}: ${value}`;
}
