import { isCancel, select, text } from '@clack/prompts';
import { minutesStamp } from '../../basics/time.ts';
import type { Step } from '../../corrections/corrections.ts';
import { anchorOf } from '../../corrections/find-note.ts';
import { otherReadings } from '../../corrections/readings.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { wordsWithin } from '../../transcript/words-within.ts';
import { askField } from './ask-field.ts';

/** What a person decided of a note. */
export type Answer = readonly Step[] | 'skip' | 'undo' | 'stop';

/** Asks what to do with a note until something is decided. */
export async function askAbout(note: Note, sheet: Sheet, signal: AbortSignal): Promise<Answer> {
  const readings = otherReadings(note);
  for (;;) {
    const chosen = await select({
      message: 'Is that right?',
      signal,
      options: [
        { value: 'right', label: 'Right as it is' },
        ...readings.map(({ says }, i) => ({ value: `reading ${i}`, label: `Or rather: ${says}` })),
        { value: 'field', label: 'Set a field' },
        { value: 'word', label: 'Fix a misheard word' },
        { value: 'split', label: 'Split it in two' },
        { value: 'join', label: 'Join it with another note' },
        { value: 'add', label: 'Add a note that was missed' },
        { value: 'skip', label: 'Skip it' },
        { value: 'undo', label: 'Undo the last decision' },
        { value: 'stop', label: 'Stop here' },
      ],
    });
    if (isCancel(chosen)) return 'stop';
    const answer = await answerFor(chosen, note, sheet, signal);
    if (answer) return answer;
  }
}

/** Null where the person thought better of it. */
async function answerFor(
  chosen: string,
  note: Note,
  sheet: Sheet,
  signal: AbortSignal,
): Promise<Answer | null> {
  const anchor = anchorOf(note);
  const reading = /^reading (\d+)$/.exec(chosen);
  if (reading) {
    const fields = otherReadings(note)[Number(reading[1])]?.fields;
    if (!fields) return null;
    return [fields === 'drop' ? { do: 'drop', note: anchor } : { do: 'set', note: anchor, fields }];
  }
  switch (chosen) {
    case 'right':
      return [{ do: 'settle', note: anchor }];
    case 'skip':
    case 'undo':
    case 'stop':
      return chosen;
    case 'field': {
      const fields = await askField(note, sheet, signal);
      return fields && [{ do: 'set', note: anchor, fields }];
    }
    case 'word': {
      const at = await askWord('Which word?', note, sheet, signal);
      const word = at === null ? undefined : sheet.words[at];
      if (!word) return null;
      const said = await text({ message: 'What was said?', initialValue: word.text, signal });
      if (isCancel(said) || !said.trim()) return null;
      return [{ do: 'word', word: { start: word.start, end: word.end, text: word.text }, text: said.trim() }];
    }
    case 'split': {
      const at = await askWord('Which word begins the second note?', note, sheet, signal);
      const from = at === null ? undefined : sheet.words[at]?.start;
      return from === undefined ? null : [{ do: 'split', note: anchor, from }];
    }
    case 'join': {
      const other = await askOther(note, sheet, signal);
      return other && [{ do: 'join', note: anchor, with: anchorOf(other) }];
    }
    case 'add':
      return askMissed(sheet, signal);
    default:
      return null;
  }
}

async function askWord(
  message: string,
  note: Note,
  { words }: Sheet,
  signal: AbortSignal,
): Promise<number | null> {
  const options = note.spans.flatMap((span) => {
    const range = wordsWithin(words, span);
    if (!range) return [];
    return words.slice(range.first, range.last + 1).map((word, i) => ({
      value: range.first + i,
      label: word.text,
      hint: `${minutesStamp(word.start)}, ${Math.round(word.confidence * 100)} % sure`,
    }));
  });
  if (options.length === 0) return null;
  const chosen = await select({ message, options, maxItems: 12, signal });
  return isCancel(chosen) ? null : chosen;
}

async function askOther(note: Note, { notes }: Sheet, signal: AbortSignal): Promise<Note | null> {
  const others = notes.filter(({ id }) => id !== note.id);
  if (others.length === 0) return null;
  const chosen = await select({
    message: 'Join it with which note?',
    options: others.map(({ id, rank, title }) => ({ value: id, label: `${rank}. ${title}` })),
    maxItems: 12,
    signal,
  });
  return isCancel(chosen) ? null : (others.find(({ id }) => id === chosen) ?? null);
}

async function askMissed({ statements }: Sheet, signal: AbortSignal): Promise<Step[] | null> {
  const free = statements.filter((statement) => statement.note === null);
  if (free.length === 0) return null;
  const chosen = await select({
    message: 'Which words were missed?',
    options: free.map(({ id, start, text: said }) => ({
      value: id,
      label: `${minutesStamp(start)} ${said}`,
    })),
    maxItems: 12,
    signal,
  });
  const statement = isCancel(chosen) ? undefined : free.find(({ id }) => id === chosen);
  if (!statement) return null;
  const role = await select({
    message: 'What is it?',
    options: [
      { value: 'fix' as const, label: 'A thing to change' },
      { value: 'keep' as const, label: 'A thing to leave alone' },
    ],
    signal,
  });
  if (isCancel(role)) return null;
  const { start, end, text: said } = statement;
  return [{ do: 'add', words: { start, end, text: said }, role }];
}
