import type { TokenRange } from '../language/talk.ts';
import { type Token, tokensOfText } from '../language/tokens.ts';

/** A stretch of talk that is a line of the shot's own dialogue, or most of one. */
export interface HeardLine extends TokenRange {
  /** Index into the shot's lines. */
  readonly line: number;
  /** Part of the line that was heard, 0 to 1. */
  readonly share: number;
}

const MATCH = 1;
/** A word that was heard otherwise, missed or added; small enough that a misheard line is still found. */
const MISS = -0.6;
/** Below this many matching words it is a quotation of a word or two, not the shot playing. */
const LEAST_SCORE = 1.9;

/**
 * Finds the shot's lines in the talk by local alignment (Smith and Waterman, 1981) of each line's words with what was
 * heard. Stretches do not overlap; the better one wins.
 */
export function findDialogue(tokens: readonly Token[], lines: readonly string[]): HeardLine[] {
  const found = lines.flatMap((text, line) => alignLine(tokens, tokensOfText(text), line));
  found.sort((a, b) => b.score - a.score);
  const kept: (HeardLine & { score: number })[] = [];
  for (const heard of found) {
    if (kept.every((other) => heard.last < other.first || heard.first > other.last)) kept.push(heard);
  }
  return kept.sort((a, b) => a.first - b.first);
}

function alignLine(tokens: readonly Token[], line: readonly Token[], index: number) {
  const width = line.length;
  let before = new Array<{ score: number; first: number; matches: number }>(width + 1).fill(nothing);
  const ends: { score: number; first: number; last: number; matches: number }[] = [];
  tokens.forEach((token, i) => {
    const row = [nothing];
    for (let j = 1; j <= width; j++) {
      const same = line[j - 1]?.form === token.form;
      const diagonal = before[j - 1] ?? nothing;
      const options = [
        { score: diagonal.score + (same ? MATCH : MISS), from: diagonal, matches: same ? 1 : 0 },
        { score: (before[j]?.score ?? 0) + MISS, from: before[j] ?? nothing, matches: 0 },
        { score: (row[j - 1]?.score ?? 0) + MISS, from: row[j - 1] ?? nothing, matches: 0 },
      ];
      const best = options.reduce((a, b) => (b.score > a.score ? b : a));
      if (best.score <= 0) {
        row.push(nothing);
        continue;
      }
      const cell = {
        score: best.score,
        first: best.from.score > 0 ? best.from.first : i,
        matches: best.from.matches + best.matches,
      };
      row.push(cell);
      if (same && cell.score >= Math.min(LEAST_SCORE, width)) ends.push({ ...cell, last: i });
    }
    before = row;
  });
  // Of all the ends of one alignment keep the best.
  ends.sort((a, b) => b.score - a.score);
  const kept: typeof ends = [];
  for (const end of ends) {
    if (kept.every((other) => end.last < other.first || end.first > other.last)) kept.push(end);
  }
  return kept.map(({ first, last, score, matches }) => ({
    first,
    last,
    score,
    line: index,
    share: matches / width,
  }));
}

const nothing = { score: 0, first: 0, matches: 0 };
