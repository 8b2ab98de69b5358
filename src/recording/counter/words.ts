import type { Box, Grey } from '../picture/picture.ts';
import { connectedBoxes } from './components.ts';
import { inkOf } from './ink.ts';

/** Pieces of ink of one height side by side: perhaps a number. */
export interface InkWord {
  readonly box: Box;
  /** Lighter than its ground. */
  readonly bright: boolean;
  readonly pieces: number;
}

const HEIGHT = { least: 7, most: 140 };
/** A digit's width as a part of its height: a "1" is narrow; two digits that touch are one piece. */
const WIDTH = { least: 0.08, most: 1.7 };
/** Digits of one number are as high as each other, stand on one line, and close together, all as parts of their height. */
const SAME_HEIGHT = 0.22;
const SAME_LINE = 0.2;
const MOST_GAP = 0.75;
const LEAST_GAP = -0.3;
/** In timecode a colon stands between, which some fonts give the width of a digit. */
const MOST_GAP_ROUND_DOTS = 1.6;
const MOST_DOT = 0.4;
/** HH:MM:SS:FF has eight digits; letters before a number may hang on it. */
const MOST_PIECES = 16;

/** Every place in a picture where something like a row of digits stands, light on dark and dark on light. */
export function findInkWords(grey: Grey): InkWord[] {
  return [true, false].flatMap((bright) => {
    const all = connectedBoxes(inkOf(grey, bright), grey.width, grey.height);
    const boxes = all.filter(
      ({ width, height }) =>
        height >= HEIGHT.least &&
        height <= HEIGHT.most &&
        width >= WIDTH.least * height &&
        width <= WIDTH.most * height,
    );
    return groupedInRows(boxes, all).map((pieces) => ({
      box: around(pieces),
      bright,
      pieces: pieces.length,
    }));
  });
}

/** The smallest box that holds all of these. */
export function around(boxes: readonly Box[]): Box {
  const x = Math.min(...boxes.map((box) => box.x));
  const y = Math.min(...boxes.map((box) => box.y));
  const right = Math.max(...boxes.map((box) => box.x + box.width));
  const bottom = Math.max(...boxes.map((box) => box.y + box.height));
  return { x, y, width: right - x, height: bottom - y };
}

function groupedInRows(digits: readonly Box[], all: readonly Box[]): Box[][] {
  const rows: Box[][] = [];
  for (const box of [...digits].sort((a, b) => a.x - b.x)) {
    const row = rows.findLast((pieces) => follows(pieces.at(-1), box, all));
    if (row) row.push(box);
    else rows.push([box]);
  }
  return rows.filter((row) => row.length <= MOST_PIECES);
}

function follows(last: Box | undefined, next: Box, all: readonly Box[]): boolean {
  if (!last) return false;
  const height = Math.max(last.height, next.height);
  const gap = next.x - (last.x + last.width);
  if (gap > MOST_GAP_ROUND_DOTS * height || gap < LEAST_GAP * height) return false;
  if (Math.abs(last.height - next.height) > SAME_HEIGHT * height) return false;
  if (Math.abs(last.y + last.height - next.y - next.height) > SAME_LINE * height) return false;
  return gap <= MOST_GAP * height || all.some((dot) => isDotBetween(dot, last, next));
}

/** A point of a colon, semicolon or full stop. */
function isDotBetween(dot: Box, last: Box, next: Box): boolean {
  return (
    dot.x >= last.x + last.width &&
    dot.x + dot.width <= next.x &&
    dot.y >= last.y &&
    dot.y + dot.height <= last.y + 1.3 * last.height &&
    dot.height <= MOST_DOT * last.height
  );
}
