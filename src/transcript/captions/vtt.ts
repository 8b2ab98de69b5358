// A CommonJS module whose names Node cannot see from outside: only the whole of it can be imported.
import webvtt from 'webvtt-parser';
import type { CueList } from './cue.ts';

/** A node of a cue's text as the parser gives it: text, a tag with children, or a time inside the cue. */
interface CueNode {
  readonly type?: string;
  readonly value?: unknown;
  readonly children?: readonly CueNode[];
}

/** With their semicolons: the parser's own list lacks them and leaves each one in the text. */
const ENTITIES = {
  '&amp;': '&',
  '&lt;': '<',
  '&gt;': '>',
  '&quot;': '"',
  '&apos;': "'",
  '&nbsp;': ' ',
  '&lrm;': '\u200e',
  '&rlm;': '\u200f',
} as const;

/** A lone "&" and cues out of order are faults by the letter of the format, but nothing is lost by them. */
const HARMLESS = /escape|previous cue/i;
/** Marks that say which way text runs. */
const DIRECTION_MARKS = /[\u200e\u200f]/g;

/** Reads WebVTT. Tags, the names of speakers (`<v Name>`) and entities are taken out; notes and styles are passed over. */
export function readVtt(text: string): CueList {
  const { cues, errors } = new webvtt.WebVTTParser(ENTITIES).parse(text, 'subtitles');
  return {
    cues: cues.map(({ startTime, endTime, tree }) => ({
      start: startTime,
      end: endTime,
      text: plainText(tree).replace(DIRECTION_MARKS, ''),
    })),
    faults: errors
      .filter(({ message }) => !HARMLESS.test(message))
      .map(({ line, message }) => `line ${line}: ${message.replace(/\.$/, '')}`),
  };
}

function plainText({ type, value, children = [] }: CueNode): string {
  return type === 'text' ? String(value) : children.map(plainText).join('');
}
