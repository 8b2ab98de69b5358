import type { Box, Grey } from '../picture/picture.ts';
import { findInkWords, type InkWord } from './words.ts';

/** A place where writing stands in most of the pictures and changes from one to another. */
export interface Candidate {
  /** Just round the writing, at its widest. */
  readonly box: Box;
  readonly bright: boolean;
  /** The part of the pictures in which writing was seen here. */
  readonly presence: number;
  /** Which of the pictures those are. */
  readonly seenIn: readonly number[];
}

const LEAST_PRESENCE = 0.4;
/** Words are in one place if they are about as high and stand on one line, as parts of the height. */
const SAME_HEIGHT = 0.2;
const SAME_LINE = 0.25;
/** An edge is believed when at least this part of the words reach it: once in a while ink of the ground hangs on. */
const EDGE_SHARE = 0.06;
/** Part of the pixels that change by much: a last digit is an eighth of a timecode. */
const LEAST_CHANGING = 0.02;
const CHANGE = 60;

/** @param pictures of one size, in which the shot stands on different frames */
export function findCandidates(pictures: readonly Grey[]): Candidate[] {
  const [first] = pictures;
  if (!first) return [];
  const places: { words: { word: InkWord; picture: number }[] }[] = [];
  pictures.forEach((grey, picture) => {
    for (const word of findInkWords(grey)) {
      const place = places.find(({ words }) => words[0] && sharePlace(words[0].word, word));
      if (place) place.words.push({ word, picture });
      else places.push({ words: [{ word, picture }] });
    }
  });
  const range = rangeOf(pictures);
  return places
    .map(({ words }) => candidateOf(words, pictures.length))
    .filter(({ presence }) => presence >= LEAST_PRESENCE)
    .filter(({ box }) => changingPart(range, first.width, box) >= LEAST_CHANGING)
    .sort((a, b) => b.presence - a.presence);
}

function sharePlace(a: InkWord, b: InkWord): boolean {
  const height = Math.max(a.box.height, b.box.height);
  return (
    a.bright === b.bright &&
    Math.abs(a.box.height - b.box.height) <= SAME_HEIGHT * height &&
    Math.abs(a.box.y + a.box.height - b.box.y - b.box.height) <= SAME_LINE * height &&
    // A number may grow to one side by a digit or more.
    a.box.x < b.box.x + b.box.width &&
    b.box.x < a.box.x + a.box.width
  );
}

function candidateOf(words: readonly { word: InkWord; picture: number }[], pictures: number): Candidate {
  const seenIn = [...new Set(words.map(({ picture }) => picture))];
  const allowed = Math.floor(EDGE_SHARE * words.length);
  const edge = (of: (box: Box) => number, ascending: boolean) => {
    const values = words.map(({ word }) => of(word.box)).sort((a, b) => (ascending ? a - b : b - a));
    return values[allowed] ?? 0;
  };
  const x = edge((box) => box.x, true);
  const y = edge((box) => box.y, true);
  const right = edge((box) => box.x + box.width, false);
  const bottom = edge((box) => box.y + box.height, false);
  return {
    box: { x, y, width: right - x, height: bottom - y },
    bright: words[0]?.word.bright ?? true,
    presence: seenIn.length / pictures,
    seenIn,
  };
}

/** How far each pixel goes between its darkest and its brightest. */
function rangeOf(pictures: readonly Grey[]): Uint8Array {
  const size = pictures[0]?.pixels.length ?? 0;
  const low = new Uint8Array(size).fill(255);
  const high = new Uint8Array(size);
  for (const { pixels } of pictures) {
    for (let i = 0; i < size; i++) {
      const value = pixels[i] ?? 0;
      if (value < (low[i] ?? 0)) low[i] = value;
      if (value > (high[i] ?? 0)) high[i] = value;
    }
  }
  return high.map((value, i) => value - (low[i] ?? 0));
}

function changingPart(range: Uint8Array, width: number, box: Box): number {
  let changing = 0;
  for (let y = box.y; y < box.y + box.height; y++) {
    for (let x = box.x; x < box.x + box.width; x++) if ((range[y * width + x] ?? 0) >= CHANGE) changing++;
  }
  return changing / Math.max(1, box.width * box.height);
}
