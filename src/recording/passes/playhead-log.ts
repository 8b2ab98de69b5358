import { readFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import { z } from 'zod';
import type { Pass } from '../../basics/pass.ts';
import { PersonError, type Problem } from '../../basics/problem.ts';
import type { Shot } from '../../basics/shot.ts';
import { readingFault } from '../../basics/system-message.ts';

/** One line of a log: at so many seconds of the recording the shot stood on a frame. */
export interface Logged {
  readonly seconds: number;
  readonly frame: number;
  /** Whether the player says that it was playing; null where it does not say. */
  readonly playing: boolean | null;
}

/** A frame that is logged this much after the last one, in seconds, no longer says what went on between. */
const LONGEST_PLAY_GAP = 1;
/** Frames that a playing shot may be off a steady line through its log. */
const LOOSE_FRAMES = 1.5;

const number = z
  .string()
  .regex(/^\s*-?\d+(\.\d+)?\s*$/)
  .transform(Number);
const YES = new Set(['1', 'true', 'yes', 'playing']);

/**
 * Reads a log of where a player stood: a CSV file with the columns `time` (seconds of the recording) and `frame` (shot
 * frame), and `playing` where the player knows.
 *
 * @returns Passes in the order of time, and one sentence for each kind of line that could not be used.
 * @throws PersonError where the file cannot be read, is no such table, or holds no line that can be used.
 */
export async function readPlayheadLog(
  path: string,
  shot: Shot,
  duration: number,
): Promise<{ passes: Pass[]; problems: Problem[] }> {
  const text = await readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
  const rows = tableOf(text, path);
  const { logged, messages } = usable(rows, path, shot);
  if (logged.length === 0)
    throw new PersonError(
      `${path} has no line with a time and a frame of the shot: look at its "time" and "frame" columns.`,
    );
  return {
    passes: passesOf(logged, duration),
    problems: messages.map((message) => ({ stage: 'recording', message })),
  };
}

function tableOf(text: string, path: string): Record<string, string>[] {
  let rows: Record<string, string>[];
  try {
    rows = z.array(z.record(z.string(), z.string())).parse(
      parse(text, {
        columns: (names: string[]) => names.map((name) => name.trim().toLowerCase()),
        bom: true,
        trim: true,
        skip_empty_lines: true,
      }),
    );
  } catch {
    throw new PersonError(
      `${path} is no table with commas between its columns: a playhead log has the columns time,frame.`,
    );
  }
  const [first] = rows;
  if (!first || !('time' in first) || !('frame' in first))
    throw new PersonError(
      `${path} lacks the columns "time" and "frame", which a playhead log has in its first line.`,
    );
  return rows;
}

function usable(rows: readonly Record<string, string>[], path: string, shot: Shot) {
  const messages: string[] = [];
  const say = (lines: readonly number[], what: string): void => {
    if (lines.length === 0) return;
    const where =
      lines.length === 1 ? `Line ${lines[0]}` : `${lines.length} lines (the first is ${lines[0]})`;
    messages.push(`${where} of ${path} ${lines.length === 1 ? 'was' : 'were'} left out: ${what}.`);
  };
  const text: number[] = [];
  const outside: number[] = [];
  const logged: Logged[] = [];
  rows.forEach((row, i) => {
    // The first line holds the names of the columns.
    const line = i + 2;
    const [seconds, frame] = [number.safeParse(row.time ?? ''), number.safeParse(row.frame ?? '')];
    if (!seconds.success || !frame.success || seconds.data < 0) text.push(line);
    else if (frame.data < shot.first || (shot.last !== null && frame.data >= shot.last + 1))
      outside.push(line);
    else {
      const playing =
        row.playing === undefined || row.playing === '' ? null : YES.has(row.playing.toLowerCase());
      logged.push({ seconds: seconds.data, frame: frame.data, playing });
    }
  });
  say(text, 'the time or the frame is not a number');
  say(outside, `the frame lies outside the shot, ${shot.first} to ${shot.last}`);
  if (logged.some((one, i) => i > 0 && one.seconds < (logged[i - 1]?.seconds ?? 0))) {
    messages.push(`The times in ${path} go back in places; its lines were put in the order of time.`);
    logged.sort((a, b) => a.seconds - b.seconds);
  }
  return { logged, messages };
}

/** Stretches in which the shot stands or plays steadily. Where a log is silent the shot stands where it was. */
function passesOf(logged: readonly Logged[], duration: number): Pass[] {
  const passes: Pass[] = [];
  const add = (start: number, end: number, first: number, last: number): void => {
    passes.push({
      start,
      end: Math.max(start, end),
      first,
      last,
      source: 'log',
      confidence: 1,
      frameError: 0,
      firstError: 0,
      lastError: 0,
    });
  };
  let from = 0;
  while (from < logged.length) {
    const begin = logged[from] as Logged;
    let to = from;
    while (to + 1 < logged.length && runsOn(logged, from, to)) to += 1;
    const end = logged[to] as Logged;
    if (to > from) add(begin.seconds, end.seconds, begin.frame, end.frame);
    const next = logged[to + 1]?.seconds ?? Math.max(duration, end.seconds);
    if (next > end.seconds) add(end.seconds, next, end.frame, end.frame);
    from = to + 1;
  }
  return passes;
}

/** Whether the line after `to` goes on with the steady play that began at `from`. */
function runsOn(logged: readonly Logged[], from: number, to: number): boolean {
  const [begin, here, next] = [logged[from], logged[to], logged[to + 1]];
  if (!begin || !here || !next || here.playing === false) return false;
  if (next.seconds - here.seconds > LONGEST_PLAY_GAP || next.frame === here.frame) return false;
  const pace = (next.frame - begin.frame) / Math.max(next.seconds - begin.seconds, 1e-6);
  return logged
    .slice(from, to + 1)
    .every((one) => Math.abs(begin.frame + pace * (one.seconds - begin.seconds) - one.frame) <= LOOSE_FRAMES);
}
