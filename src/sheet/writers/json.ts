import type { Transcript } from '../../transcript/transcript.ts';
import type { Sheet } from '../sheet.ts';
import type { Writer } from './writer.ts';

/**
 * Writes a record as JSON that is both small and readable: long lists of small things (words, statements) take one line
 * an item, the rest is indented by two.
 */
export function writeJson(record: object, listsOfLines: readonly string[]): string {
  const entries = Object.entries(record).flatMap(([key, value]) => {
    if (value === undefined) return [];
    const isLines = listsOfLines.includes(key) && Array.isArray(value) && value.length > 0;
    return [`  ${JSON.stringify(key)}: ${isLines ? lines(value) : indented(value)}`];
  });
  return `{\n${entries.join(',\n')}\n}\n`;
}

function lines(items: readonly unknown[]): string {
  return `[\n${items.map((item) => `    ${JSON.stringify(item)}`).join(',\n')}\n  ]`;
}

function indented(value: unknown): string {
  return JSON.stringify(value, null, 2).replaceAll('\n', '\n  ');
}

export const sheetJson: Writer<Sheet> = {
  ending: '.sheet.json',
  says: 'the whole sheet, for programs',
  leavesOut: null,
  write: (sheet) => writeJson(sheet, ['words', 'statements']),
};

export const transcriptJson: Writer<Transcript> = {
  ending: '.transcript.json',
  says: 'every word with its times, which "read" takes in place of the recording',
  leavesOut: null,
  write: (transcript) => writeJson(transcript, ['words']),
};
