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
/** HH:MM:SS:FF has eight digits; letters before a number may hang on it. */
const MOST_PIECES = 16;

/** Every place in a picture where something like a row of digits stands, light on dark and dark on light. */
export function findInkWords(grey: Grey): InkWord[] {
  return [true, false].flatMap((bright) => {
    const boxes = connectedBoxes(inkOf(grey, bright), grey.width, grey.height).filter(
      ({ width, height }) =>
        height >= HEIGHT.least &&
        height <= HEIGHT.most &&
        width >= WIDTH.least * height &&
        width <= WIDTH.most * height,
    );
    return groupedInRows(boxes).map((pieces) => ({ box: around(pieces), bright, pieces: pieces.length }));
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

function groupedInRows(boxes: readonly Box[]): Box[][] {
  const rows: Box[][] = [];
  for (const box of [...boxes].sort((a, b) => a.x - b.x)) {
    const row = rows.findLast((pieces) => follows(pieces.at(-1), box));
    if (row) row.push(box);
    else rows.push([box]);
  }
  return rows.filter((row) => row.length <= MOST_PIECES);
}

function follows(last: Box | undefined, next: Box): boolean {
  if (!last) return false;
  const height = Math.max(last.height, next.height);
  const gap = next.x - (last.x + last.width);
  return (
    gap <= MOST_GAP * height &&
    gap > -0.3 * height &&
    Math.abs(last.height - next.height) <= SAME_HEIGHT * height &&
    Math.abs(last.y + last.height - next.y - next.height) <= SAME_LINE * height
  );
}
