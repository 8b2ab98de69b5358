import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../sheet.ts';

/** A row of the exposure sheet: one frame, or a run of frames in which nothing begins or ends. Both ends included. */
export interface Row {
  readonly first: number;
  readonly last: number;
  /** Whether the line under the row is a heavy one: every eight frames, half a foot of film. */
  readonly heavy: boolean;
}

/** A note's place on the sheet: rows from `row` on, `rows` of them, in a lane counted from the left. */
export interface Strip {
  readonly note: Note;
  readonly row: number;
  readonly rows: number;
  readonly lane: number;
  /** Rows down to the next strip of the lane: how far its words may run on, as handwriting does on paper. */
  readonly room: number;
}

export interface Exposure {
  readonly rows: readonly Row[];
  readonly action: Column;
  readonly keep: Column;
}

/** Strips side by side in `lanes` lanes; where more notes meet, those that found no lane stand in `crowded` at the row they begin. */
export interface Column {
  readonly lanes: number;
  readonly strips: readonly Strip[];
  readonly crowded: ReadonlyMap<number, readonly Note[]>;
}

const HALF_FOOT_FRAMES = 8;
/** Frames shown before and after one where a note begins or ends. */
const AROUND = 2;
/** A note this long is never folded inside. */
const SHORT_NOTE_FRAMES = 16;
/** A shorter run is not worth a fold. */
const SHORTEST_FOLD = 5;
const ACTION_LANES = 3;
const KEEP_LANES = 1;
/** Rows that a strip's words may take at most. */
export const MOST_ROOM = 5;

/** Lays notes out as on an exposure sheet: frames run down, one row a frame, folded where nothing happens. */
export function layOut(shot: Sheet['shot'], notes: readonly Note[]): Exposure {
  const placed = notes.filter((note) => note.frames !== null && !note.withdrawn);
  const rows = rowsOf(shot, placed);
  const rowOf = (frame: number): number => rowAt(rows, frame);
  return {
    rows,
    action: inLanes(
      placed.filter((note) => note.role === 'fix'),
      rowOf,
      ACTION_LANES,
    ),
    keep: inLanes(
      placed.filter((note) => note.role === 'keep'),
      rowOf,
      KEEP_LANES,
    ),
  };
}

function rangeOf(note: Note): [first: number, last: number] {
  const { first, last } = note.frames ?? { first: 0, last: 0 };
  return [Math.round(Math.min(first, last)), Math.round(Math.max(first, last))];
}

function rowsOf(shot: Sheet['shot'], placed: readonly Note[]): Row[] {
  const ranges = placed.map(rangeOf);
  const begin = ranges.reduce((least, [first]) => Math.min(least, first), shot.first);
  const end = ranges.reduce((most, [, last]) => Math.max(most, last), shot.last ?? shot.first);
  const shown = new Set<number>([begin, end, shot.first, shot.last ?? end]);
  const show = (from: number, to: number): void => {
    for (let frame = Math.max(begin, from); frame <= Math.min(end, to); frame++) shown.add(frame);
  };
  for (const [first, last] of ranges) {
    if (last - first <= SHORT_NOTE_FRAMES) show(first - AROUND, last + AROUND);
    else for (const edge of [first, last]) show(edge - AROUND, edge + AROUND);
  }
  const rows: Row[] = [];
  let next = begin;
  for (const frame of [...shown].sort((a, b) => a - b)) {
    if (frame - next >= SHORTEST_FOLD) rows.push(row(shot, next, frame - 1));
    else for (let one = next; one < frame; one++) rows.push(row(shot, one, one));
    rows.push(row(shot, frame, frame));
    next = frame + 1;
  }
  return rows;
}

function row(shot: Sheet['shot'], first: number, last: number): Row {
  return { first, last, heavy: first === last && isHeavy(first, shot.first) };
}

/** Whether a heavy line stands under a frame, counted from the shot's first. */
export function isHeavy(frame: number, shotFirst: number): boolean {
  return (((frame - shotFirst + 1) % HALF_FOOT_FRAMES) + HALF_FOOT_FRAMES) % HALF_FOOT_FRAMES === 0;
}

/** The row that holds a frame, found by halving. */
function rowAt(rows: readonly Row[], frame: number): number {
  let low = 0;
  let high = rows.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rows[middle]?.last ?? 0) < frame) low = middle + 1;
    else high = middle;
  }
  return low;
}

function inLanes(notes: readonly Note[], rowOf: (frame: number) => number, most: number): Column {
  const inOrder = [...notes].sort((a, b) => rangeOf(a)[0] - rangeOf(b)[0] || a.rank - b.rank);
  const freeFrom: number[] = [];
  const strips: Omit<Strip, 'room'>[] = [];
  const crowded = new Map<number, Note[]>();
  for (const note of inOrder) {
    const [begin, end] = rangeOf(note).map(rowOf);
    if (begin === undefined || end === undefined) continue;
    const free = freeFrom.findIndex((from) => from <= begin);
    const lane = free < 0 ? freeFrom.length : free;
    if (lane >= most) {
      crowded.set(begin, [...(crowded.get(begin) ?? []), note]);
      continue;
    }
    freeFrom[lane] = end + 1;
    strips.push({ note, row: begin, rows: end - begin + 1, lane });
  }
  const withRoom = strips.map((strip) => {
    const next = strips.find((other) => other.lane === strip.lane && other.row > strip.row);
    return { ...strip, room: (next?.row ?? strip.row + MOST_ROOM) - strip.row };
  });
  return { lanes: freeFrom.length, strips: withRoom, crowded };
}
