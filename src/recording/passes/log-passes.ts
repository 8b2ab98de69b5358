import type { Pass } from '../../basics/pass.ts';

/** One row of a player's log. `playing` is null where the log does not say. */
export interface LogRow {
  readonly seconds: number;
  readonly frame: number;
  readonly playing: boolean | null;
}

/** Players write whole frames: at a line's beginning and on its way the frame may be up to one behind. */
const TOLERANCE_FRAMES = 1.001;
/** Faster than this, in times the frame rate, nobody plays: it is a jump. */
const FASTEST = 4;
/** Rows further apart than this, in seconds, tell of playing only where the frames between go at a speed that players have. */
const LONGEST_STEP_SECONDS = 1;
/** In times the frame rate, and how far off it a row may be: players write late. */
const SPEEDS = [0.5, 1, 2];
const NEAR_SPEED = 0.1;
/** On one frame for so long, the shot stands; at quarter speed a frame at 24 a second lasts 0.17 s. */
const STANDING_SECONDS = 0.25;

/** What the shot did from one row to the next. */
type Step = 'stands' | 'stands until then' | 'moves' | 'jumps';

/**
 * Turns a player's log into stretches in which the frame moves steadily or stands.
 * @param rows in the order of time, no two at the same time
 * @param fps of the shot: tells a jump from playing
 */
export function logPasses(rows: readonly LogRow[], fps: number): Pass[] {
  const [only] = rows;
  if (only && rows.length === 1) return [passOf(only, only.seconds, only.frame)];
  const steps = stepsOf(rows, fps);
  const passes: Pass[] = [];
  for (let i = 1; i < rows.length; ) {
    const [from, step] = [rows[i - 1], steps[i]];
    if (!from || !step) break;
    let next = i + 1;
    if (step === 'stands' || step === 'stands until then') {
      while (steps[next - 1] === 'stands' && steps[next]?.startsWith('stands')) next++;
      const end = rows[next - 1]?.seconds ?? from.seconds;
      passes.push(passOf(from, end, from.frame));
    } else if (step === 'moves') {
      let slopes = narrowed(EVERY_SLOPE, from, rows[i]);
      while (slopes && steps[next] === 'moves') {
        slopes = narrowed(slopes, from, rows[next]);
        if (slopes) next++;
      }
      const to = rows[next - 1] ?? from;
      passes.push(passOf(from, to.seconds, to.frame));
    }
    i = next;
  }
  return passes;
}

/** The step from row `i` - 1 to row `i`, for each `i` from 1. */
function stepsOf(rows: readonly LogRow[], fps: number): (Step | undefined)[] {
  const steps: (Step | undefined)[] = [undefined];
  for (let i = 1; i < rows.length; i++) {
    const [before, row] = [rows[i - 1], rows[i]];
    if (before && row) steps.push(stepOf(before, row, fps));
  }
  // A frame that stays for long stands, however many rows say so.
  for (let from = 0; from < rows.length; ) {
    let to = from;
    while (rows[to + 1]?.frame === rows[from]?.frame) to++;
    const seconds = (rows[to]?.seconds ?? 0) - (rows[from]?.seconds ?? 0);
    if (seconds >= STANDING_SECONDS) steps.fill('stands', from + 1, to + 1);
    from = to + 1;
  }
  return steps;
}

function stepOf(before: LogRow, row: LogRow, fps: number): Step {
  const frames = Math.abs(row.frame - before.frame);
  const seconds = row.seconds - before.seconds;
  if (before.playing === false) return frames === 0 ? 'stands' : 'stands until then';
  const pace = frames / seconds / fps;
  const played = SPEEDS.some((speed) => Math.abs(pace - speed) <= NEAR_SPEED * speed);
  const slow = frames > 0 && seconds > LONGEST_STEP_SECONDS && !played;
  if (before.playing === null && slow) return 'stands until then';
  return frames > TOLERANCE_FRAMES && frames / seconds > FASTEST * fps ? 'jumps' : 'moves';
}

interface Slopes {
  readonly least: number;
  readonly most: number;
}

const EVERY_SLOPE: Slopes = { least: Number.NEGATIVE_INFINITY, most: Number.POSITIVE_INFINITY };

/** The slopes of lines from the anchor that pass every row so far within the tolerance; null where there is none. */
function narrowed({ least, most }: Slopes, anchor: LogRow, row: LogRow | undefined): Slopes | null {
  if (!row) return null;
  const seconds = row.seconds - anchor.seconds;
  const rise = row.frame - anchor.frame;
  const next = {
    least: Math.max(least, (rise - TOLERANCE_FRAMES) / seconds),
    most: Math.min(most, (rise + TOLERANCE_FRAMES) / seconds),
  };
  return next.least <= next.most ? next : null;
}

function passOf(first: LogRow, end: number, last: number): Pass {
  const error = first.frame === last ? 0 : 1;
  return {
    ...{ start: first.seconds, end, first: first.frame, last, source: 'log', confidence: 1 },
    ...{ frameError: error, firstError: error, lastError: error },
  };
}
