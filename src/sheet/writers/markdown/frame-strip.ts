import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../sheet.ts';
import { frameRange } from '../wording.ts';

/** Characters that the shot's frames are drawn on. */
const WIDTH = 60;
/** Least characters from one numbered tick to the next, so that numbers of four digits do not touch. */
const TICK_WIDTH = 8;
/** Frames from tick to tick: eights, as the heavier lines of an exposure sheet are, and their multiples. */
const TICK_FRAMES = [8, 16, 24, 48, 96, 120, 240, 480, 960];

/**
 * The shot's frames as a ruler and the notes under it in the order of frames, as a block of plain text; null where no note
 * has frames. Without a known last frame the ruler ends with the last note.
 */
export function frameStrip({ shot }: Sheet, notes: readonly Note[]): string | null {
  const placed = notes.flatMap((note) => (note.frames ? [{ note, frames: note.frames }] : []));
  if (placed.length === 0) return null;
  placed.sort((a, b) => a.frames.first - b.frames.first || a.note.rank - b.note.rank);
  const first = Math.min(shot.first, ...placed.map(({ frames }) => frames.first));
  const last = Math.max(shot.last ?? first, ...placed.map(({ frames }) => frames.last));
  const column = (frame: number): number =>
    Math.round(((frame - first) / Math.max(1, last - first)) * (WIDTH - 1));
  const name = (note: Note): string => `note ${note.rank}`.padEnd(9);
  const rows = placed.map(({ note, frames }) => {
    const [from, to] = [column(frames.first), column(frames.last)];
    const bar = `${' '.repeat(from)}${to > from ? '='.repeat(to - from + 1) : '|'}`;
    return `${name(note)}${bar.padEnd(WIDTH)} ${frameRange(note)}`.trimEnd();
  });
  return [
    '```text',
    ...ruler(first, last, column).map((line) => `${' '.repeat(9)}${line}`.trimEnd()),
    ...rows,
    '```',
  ].join('\n');
}

/** Two lines: the numbers of the ticks, and the ticks. */
function ruler(first: number, last: number, column: (frame: number) => number): [string, string] {
  const wide = TICK_FRAMES.find((frames) => column(first + frames) >= TICK_WIDTH) ?? last - first;
  const numbers = new Array<string>(WIDTH + TICK_WIDTH).fill(' ');
  const ticks = new Array<string>(WIDTH).fill('-');
  for (let frame = first; frame <= last; frame += Math.max(1, wide)) {
    ticks[column(frame)] = '+';
    for (const [i, digit] of [...`${frame}`].entries()) numbers[column(frame) + i] = digit;
  }
  return [numbers.join(''), ticks.join('')];
}
