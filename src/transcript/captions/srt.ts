import { parseSync } from 'subtitle';
import type { Cue, CueList } from './cue.ts';

const MILLISECONDS = 1000;
/** Of Unicode. */
const LAST_CODE_POINT = 0x10ffff;
const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: ' ',
  lrm: '',
  rlm: '',
};

/**
 * Reads SubRip. Tags, position marks (`{\an8}`) and entities are taken out. Where a caption cannot be read the others are,
 * and the fault names its line.
 */
export function readSrt(text: string): CueList {
  try {
    return { cues: cuesOf(text), faults: [] };
  } catch {
    return readPieces(text);
  }
}

/** The parser gives up at the first fault, so a file with one is read caption by caption. */
function readPieces(text: string): CueList {
  const cues: Cue[] = [];
  const faults: string[] = [];
  for (const { piece, line } of piecesOf(text)) {
    try {
      const read = cuesOf(piece);
      if (read.length === 0) faults.push(`line ${line}: No times were found`);
      cues.push(...read);
    } catch {
      faults.push(`line ${line}: The times cannot be read`);
    }
  }
  return { cues, faults };
}

/** What stands between empty lines, with the number of its first line. */
function piecesOf(text: string): { piece: string; line: number }[] {
  const pieces: { piece: string; line: number }[] = [];
  let lines: string[] = [];
  for (const [i, line] of [...text.split(/\r\n|\r|\n/), ''].entries()) {
    if (line.trim() !== '') lines.push(line);
    else if (lines.length > 0) {
      pieces.push({ piece: lines.join('\n'), line: i + 1 - lines.length });
      lines = [];
    }
  }
  return pieces;
}

function cuesOf(text: string): Cue[] {
  return parseSync(text).flatMap((node) =>
    node.type === 'cue'
      ? [
          {
            start: node.data.start / MILLISECONDS,
            end: node.data.end / MILLISECONDS,
            text: plainText(node.data.text),
          },
        ]
      : [],
  );
}

function plainText(text: string): string {
  return text
    .replace(/<\/?[a-z][^>]*>/gi, '')
    .replace(/\{\\[^}]*\}/g, '')
    .replace(/&#(\d{1,7});/g, (whole, code: string) =>
      Number(code) <= LAST_CODE_POINT ? String.fromCodePoint(Number(code)) : whole,
    )
    .replace(/&([a-z]+);/gi, (whole, name: string) => ENTITIES[name.toLowerCase()] ?? whole);
}
