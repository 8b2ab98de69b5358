import { minutesStamp } from '../basics/time.ts';
import type { Decision, Fields } from './corrections.ts';

/** A decision in a few words, for people: 'strength set to must, of "Lock the left foot"'. */
export function describeDecision(decision: Decision): string {
  switch (decision.do) {
    case 'set':
      return `${describeFields(decision.fields)}, of "${decision.note.title}"`;
    case 'settle':
      return `"${decision.note.title}" is right`;
    case 'word':
      return `"${decision.word.text}" at ${minutesStamp(decision.word.start)} is "${decision.text}"`;
    case 'split':
      return `"${decision.note.title}" split at ${minutesStamp(decision.from)}`;
    case 'join':
      return `"${decision.with.title}" joined to "${decision.note.title}"`;
    case 'drop':
      return `"${decision.note.title}" is no note`;
    case 'add':
      return `a note from ${minutesStamp(decision.words.start)}: "${shorten(decision.words.text)}"`;
    case 'undo':
      return 'undone';
  }
}

function describeFields(fields: Fields): string {
  return Object.entries(fields)
    .map(([name, value]) => `${name} set to ${describeValue(value)}`)
    .join(', ');
}

function describeValue(value: Fields[keyof Fields]): string {
  if (value === null || value === undefined) return 'none';
  if (typeof value !== 'object') return String(value);
  if (Array.isArray(value)) {
    const items = value.map((item) =>
      typeof item === 'string' ? item : [item.side, item.part].filter(Boolean).join(' '),
    );
    return items.join(', ') || 'none';
  }
  if ('what' in value) return `${value.what} ${value.min} to ${value.max} ${value.unit}`;
  return `${value.first} to ${value.last}`;
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}
