import type { Pass } from '../../basics/pass.ts';

/** One row of a player's log. `playing` is null where the log does not say. */
export interface LogRow {
  readonly seconds: number;
  readonly frame: number;
  readonly playing: boolean | null;
}

/** Players write whole frames, and write them a little late. */
const TOLERANCE_FRAMES = 0.75;
/** Faster than this, in times the frame rate, nobody plays: it is a jump. */
const FASTEST = 4;
/** Rows further apart than this, in seconds, tell of playing only where the frames between go at a speed that players have. */
const LONGEST_STEP_SECONDS = 1;
/** In times the frame rate, and how far off it a row may be: players write late. */
const SPEEDS = [0.5, 1, 2];
const NEAR_SPEED = 0.1;

/**
 * Turns a player's log into stretches in which the frame moves steadily or stands.
 * @param rows in the order of time, no two at the same time
 * @param fps of the shot: tells a jump from playing
 */
export function logPasses(rows: readonly LogRow[], fps: number): Pass[] {
  const passes: Pass[] = [];
  let from = 0;
  let slopes = everySlope();
  const close = (to: number, end: number, last: number) => {
    const first = rows[from];
    if (first && (end > first.seconds || to === from)) passes.push(passOf(first, end, last));
  };
  for (let i = 1; i < rows.length; i++) {
    const [anchor, before, row] = [rows[from], rows[i - 1], rows[i]];
    if (!anchor || !before || !row) break;
    const kind = stepKind(before, row, fps);
    if (kind === 'moved') {
      const next = narrowed(slopes, anchor, row);
      if (next) {
        slopes = next;
        continue;
      }
      if (i - 1 > from) close(i - 1, before.seconds, before.frame);
      from = i - 1;
      slopes = narrowed(everySlope(), before, row) ?? everySlope();
      continue;
    }
    if (i - 1 > from) close(i - 1, before.seconds, before.frame);
    // It stood on the frame before until it was seen elsewhere.
    if (kind === 'stood') {
      from = i - 1;
      close(i, row.seconds, before.frame);
    }
    from = i;
    slopes = everySlope();
  }
  const last = rows.at(-1);
  if (last) close(rows.length - 1, last.seconds, last.frame);
  return joinStanding(passes);
}

interface Slopes {
  readonly least: number;
  readonly most: number;
}

const everySlope = (): Slopes => ({ least: Number.NEGATIVE_INFINITY, most: Number.POSITIVE_INFINITY });

/** The slopes of lines from the anchor that pass every row so far within the tolerance; null where there is none. */
function narrowed({ least, most }: Slopes, anchor: LogRow, row: LogRow): Slopes | null {
  const seconds = row.seconds - anchor.seconds;
  const rise = row.frame - anchor.frame;
  const next = {
    least: Math.max(least, (rise - TOLERANCE_FRAMES) / seconds),
    most: Math.min(most, (rise + TOLERANCE_FRAMES) / seconds),
  };
  return next.least <= next.most ? next : null;
}

function stepKind(before: LogRow, row: LogRow, fps: number): 'moved' | 'stood' | 'jumped' {
  const frames = Math.abs(row.frame - before.frame);
  const seconds = row.seconds - before.seconds;
  if (before.playing === false)
    return frames <= TOLERANCE_FRAMES && row.playing === false ? 'moved' : 'stood';
  if (before.playing === null && frames > TOLERANCE_FRAMES && seconds > LONGEST_STEP_SECONDS) {
    const pace = frames / seconds / fps;
    if (!SPEEDS.some((speed) => Math.abs(pace - speed) <= NEAR_SPEED * speed)) return 'stood';
  }
  return frames > 1 && frames / seconds > FASTEST * fps ? 'jumped' : 'moved';
}

function passOf(first: LogRow, end: number, last: number): Pass {
  return {
    start: first.seconds,
    end,
    first: first.frame,
    last,
    source: 'log',
    confidence: 1,
    frameError: TOLERANCE_FRAMES,
    firstError: TOLERANCE_FRAMES,
    lastError: TOLERANCE_FRAMES,
  };
}

/** Stretches that stand on one frame and follow each other are one. */
function joinStanding(passes: readonly Pass[]): Pass[] {
  const joined: Pass[] = [];
  for (const pass of passes) {
    const before = joined.at(-1);
    const stands = before?.first === before?.last && pass.first === pass.last && before?.last === pass.first;
    if (before && stands && before.end === pass.start)
      joined[joined.length - 1] = { ...before, end: pass.end };
    else joined.push(pass);
  }
  return joined;
}
