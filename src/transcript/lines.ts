import type { Transcript } from './transcript.ts';

/** A silence this long ends a line of dialogue. */
const LINE_ENDS_SECONDS = 0.6;

/** The words of a transcript as lines, one for each stretch without a longer silence. */
export function linesOf({ words }: Transcript): string[] {
  const lines: string[][] = [];
  words.forEach((word, i) => {
    const before = words[i - 1];
    const goesOn = before !== undefined && word.start - before.end < LINE_ENDS_SECONDS;
    if (goesOn) lines.at(-1)?.push(word.text);
    else lines.push([word.text]);
  });
  return lines.map((line) => line.join(' '));
}
