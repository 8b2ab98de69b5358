import type { Transcript } from '../../transcript/transcript.ts';
import type { Writer } from './writer.ts';

const PARAGRAPH_PAUSE_SECONDS = 2;

/** The words alone, a paragraph for each stretch of talk without a long pause. */
export function writeText(transcript: Transcript): string {
  const paragraphs: string[][] = [];
  let lastEnd = Number.NEGATIVE_INFINITY;
  for (const word of transcript.words) {
    if (word.start - lastEnd >= PARAGRAPH_PAUSE_SECONDS) paragraphs.push([]);
    paragraphs.at(-1)?.push(word.text.trim());
    lastEnd = word.end;
  }
  return paragraphs.map((words) => `${words.join(' ')}\n`).join('\n');
}

export const txt: Writer<Transcript> = {
  ending: '.txt',
  says: 'the words alone',
  leavesOut: 'all times and confidences',
  write: writeText,
};
