import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { parse } from 'csv-parse/sync';
import { z } from 'zod';
import type { Pass } from '../basics/pass.ts';
import { messageOf, PersonError, type Problem } from '../basics/problem.ts';
import { type LogRow, logPasses } from './passes/log-passes.ts';

/** What a log is checked against; `last` is null where nobody said how long the shot is. */
export interface LoggedShot {
  readonly fps: number;
  readonly first: number;
  readonly last: number | null;
}

/** Hours of rows at 60 a second stay far below. */
const MOST_BYTES = 64 * 2 ** 20;

const YES = ['1', 'true', 'yes', 'playing', 'play'];
const NO = ['0', 'false', 'no', 'paused', 'stopped', 'pause', 'stop'];

/**
 * Reads a player's log: CSV with the columns `time` (seconds of the recording), `frame` (of the shot) and, where the player knows,
 * `playing` (1 or 0). Semicolons or tabs may stand for commas.
 * @returns stretches in which the frame moves steadily or stands, and one problem for each kind of thing that was wrong
 * @throws PersonError where the file is not there or may not be read
 */
export async function readPlayheadLog(
  path: string,
  shot: LoggedShot,
): Promise<{ passes: Pass[]; problems: Problem[] }> {
  return parsePlayheadLog(await textOf(path), basename(path), shot);
}

/** The same from text; `name` is for the messages. */
export function parsePlayheadLog(
  text: string,
  name: string,
  shot: LoggedShot,
): { passes: Pass[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const say = (message: string) => problems.push({ stage: 'recording', message: `${name} ${message}` });
  const table = tableOf(text, say);
  if (!table) return { passes: [], problems };
  const rows = inOrder(inShot(numbersIn(table, say), shot, say), say);
  if (rows.length === 0)
    say(
      problems.length === 0
        ? 'holds a heading and no rows: it was not used.'
        : 'has no other rows, so it was not used.',
    );
  return { passes: logPasses(withRests(rows), shot.fps), problems };
}

async function textOf(path: string): Promise<string> {
  const name = basename(path);
  try {
    const { size } = await stat(path);
    if (size > MOST_BYTES) throw new PersonError(`${name} is too long for a log of a playhead (over 64 MB).`);
    return await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof PersonError) throw error;
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT')
      throw new PersonError(`There is no file ${path}: look at the name and the folder.`);
    throw new PersonError(`${name} cannot be read (${messageOf(error)}): give the log as a CSV file.`);
  }
}

type Say = (message: string) => void;

interface Line {
  readonly line: number;
  readonly time: string;
  readonly frame: string;
  readonly playing: string | null;
}

/** A row with the line of the file it stands on. */
interface PlacedRow extends LogRow {
  readonly line: number;
}

/** What the CSV library gives: the cells of a row and where it stood. */
const recordsSchema = z.array(
  z.object({ record: z.array(z.string()), info: z.object({ lines: z.number() }) }),
);

function tableOf(text: string, say: Say): Line[] | null {
  const heading = text.slice(0, 1000).split(/\r?\n/, 1)[0] ?? '';
  const delimiter = [';', '\t'].find((mark) => heading.includes(mark)) ?? ',';
  let records: z.infer<typeof recordsSchema>;
  try {
    const parsed: unknown = parse(text, {
      delimiter,
      bom: true,
      trim: true,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      info: true,
    });
    records = recordsSchema.parse(parsed);
  } catch (error) {
    say(`is not CSV (${messageOf(error)}): it was not used.`);
    return null;
  }
  const names = records[0]?.record.map((cell) => cell.toLowerCase()) ?? [];
  const [time, frame, playing] = ['time', 'frame', 'playing'].map((column) => names.indexOf(column));
  if (time === undefined || frame === undefined || playing === undefined || time < 0 || frame < 0) {
    say(
      'does not begin with the columns time and frame: it was not used. Its first line must be "time,frame".',
    );
    return null;
  }
  return records.slice(1).map(({ record, info }) => ({
    line: info.lines,
    time: record[time] ?? '',
    frame: record[frame] ?? '',
    playing: playing < 0 ? null : (record[playing] ?? ''),
  }));
}

function numbersIn(table: readonly Line[], say: Say): PlacedRow[] {
  const rows: PlacedRow[] = [];
  const wrong: string[] = [];
  for (const { line, time, frame, playing } of table) {
    const [seconds, number] = [numberIn(time), numberIn(frame)];
    const plays = playing === null || playing === '' ? null : playingIn(playing);
    if (seconds === null || seconds < 0) wrong.push(`"${time}" for a time on line ${line}`);
    else if (number === null) wrong.push(`"${frame}" for a frame on line ${line}`);
    else if (plays === undefined) wrong.push(`"${playing}" for playing on line ${line}`);
    else rows.push({ line, seconds, frame: number, playing: plays });
  }
  if (wrong.length > 0) {
    say(`has ${counted(wrong.length, 'row')} that cannot be read, the first with ${wrong[0]}: left out.`);
  }
  return rows;
}

function numberIn(cell: string): number | null {
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i.test(cell) ? Number(cell.replace(',', '.')) : null;
}

function playingIn(cell: string): boolean | undefined {
  const word = cell.toLowerCase();
  if (YES.includes(word)) return true;
  return NO.includes(word) ? false : undefined;
}

function inShot(rows: readonly PlacedRow[], { first, last }: LoggedShot, say: Say): PlacedRow[] {
  // A playhead may rest behind the last frame.
  const inside = rows.filter(({ frame }) => frame >= first && (last === null || frame <= last + 1));
  const kept = new Set(inside);
  const outside = rows.find((row) => !kept.has(row));
  if (outside) {
    const range = last === null ? `begins with ${first}` : `has frames ${first} to ${last}`;
    const count = counted(rows.length - inside.length, 'row');
    say(
      `has ${count} outside the shot, the first with frame ${outside.frame} on line ${outside.line}; the shot ${range}: left out.`,
    );
  }
  return inside;
}

function inOrder(rows: readonly PlacedRow[], say: Say): PlacedRow[] {
  const back = rows.findIndex((row, i) => i > 0 && row.seconds < (rows[i - 1]?.seconds ?? 0));
  const [row, before] = [rows[back], rows[back - 1]];
  if (row && before) {
    say(
      `goes back in time on line ${row.line}, from ${before.seconds} s to ${row.seconds} s: its rows were put in order.`,
    );
  }
  const sorted = [...rows].sort((a, b) => a.seconds - b.seconds);
  // Of two rows of one moment the later written is what the player came to.
  return sorted.filter((one, i) => one.seconds !== sorted[i + 1]?.seconds);
}

/** Rows this near each other, in seconds, that differ by a frame or two are of a player that writes each frame. */
const NEAR_ROWS_SECONDS = 0.25;
const NEAR_ROWS_FRAMES = 2;
/** A gap so long, in seconds, between two rows that differ is a rest, where each frame of a playing is written. */
const REST_SECONDS = 1;

/**
 * Marks the rows after which the shot stood, where the log does not say: a player that writes each frame and is silent for
 * seconds stands, however well the next frame would fit a slow playing; and nobody plays backwards without a row between.
 */
function withRests(rows: readonly PlacedRow[]): PlacedRow[] {
  const changes = rows.filter((row, i) => i > 0 && row.frame !== rows[i - 1]?.frame).length;
  const near = rows.filter((row, i) => {
    const before = rows[i - 1];
    if (!before || row.frame === before.frame) return false;
    const close = row.seconds - before.seconds <= NEAR_ROWS_SECONDS;
    return close && Math.abs(row.frame - before.frame) <= NEAR_ROWS_FRAMES;
  }).length;
  const writesEach = 2 * near > changes;
  return rows.map((row, i) => {
    const next = rows[i + 1];
    if (!next || row.playing !== null || next.seconds - row.seconds <= REST_SECONDS) return row;
    return writesEach || next.frame < row.frame ? { ...row, playing: false } : row;
  });
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
