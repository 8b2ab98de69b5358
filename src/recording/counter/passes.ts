import { exactRate } from '../../basics/rate.ts';
import type { TrackedLook } from './track.ts';

/**
 * A stretch of a recording in which the shot stands or goes steadily. Seconds of the recording against frames of the
 * shot: at a time between, the frame on the screen is the whole part of the number between.
 */
export interface Pass {
  readonly start: number;
  readonly end: number;
  readonly first: number;
  readonly last: number;
  readonly source: 'counter';
  /** 0 to 1. */
  readonly confidence: number;
}

/** A frame that is seen at least so long stands. */
const STANDING_SECONDS = 0.12;
/** How far a frame may be off a steady line, beyond its own width: recorders and players are not in step. */
const LOOSE_FRAMES = 0.5;
const FREE_LOOSE_FRAMES = 0;
const STRAY_SHARE = 0.1;
/** A known speed is taken where it goes so far in looks, and at least this part of what any speed can. */
const LEAST_STEPS = 3;
const KNOWN_SPEED_SHARE = 0.7;
/** Speeds that players have, tried before any other. */
const SPEEDS: readonly number[] = [1, -1, 0.5, -0.5, 0.25, 2];
/** The end of a pass is still on its last frame. */
const ALMOST_ONE = 0.99;
/** What is left of doubt where every reading agrees. */
const DOUBT = 0.15;

/** Parts the way of a counter into passes. */
export function passesOf(looks: readonly TrackedLook[], fps: number): Pass[] {
  const passes: Pass[] = [];
  let at = 0;
  while (at < looks.length) {
    const standing = standingTo(looks, at);
    const next = standing ?? movingTo(looks, at, fps);
    passes.push(passOf(looks, at, next, passes.at(-1)?.end));
    at = next.to + 1;
  }
  return passes;
}

/** Looks up to `to`, whose frames lie on a line: slope in frames a second, position at time 0. */
interface Line {
  readonly to: number;
  readonly slope: number;
  readonly atZero: number;
}

function standingTo(looks: readonly TrackedLook[], from: number): Line | null {
  const start = looks[from];
  if (!start) return null;
  let to = from;
  while (looks[to + 1]?.frame === start.frame) to++;
  const seconds = (looks[to]?.endSeconds ?? start.endSeconds) - start.startSeconds;
  const alone = to === looks.length - 1 && from === to;
  return seconds >= STANDING_SECONDS || alone ? { to, slope: 0, atZero: start.frame } : null;
}

/** The steady line that goes on longest, but rather one at a speed that players have. */
function movingTo(looks: readonly TrackedLook[], from: number, fps: number): Line {
  const rate = exactRate(fps).perSecond;
  const free = freeLine(looks, from);
  const known = SPEEDS.map((speed) => lineAt(looks, from, speed * rate)).reduce((a, b) =>
    b.to > a.to ? b : a,
  );
  const reach = known.to - from;
  return reach >= LEAST_STEPS && reach >= KNOWN_SPEED_SHARE * (free.to - from) ? known : free;
}

/** How far one may go with this slope, standing stretches not included. */
function lineAt(looks: readonly TrackedLook[], from: number, slope: number): Line {
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  const positions: number[] = [];
  for (let k = from; k < looks.length && (k === from || !standingTo(looks, k)); k++) {
    const look = looks[k];
    if (!look) break;
    const begins = look.frame - slope * look.startSeconds;
    low = Math.max(low, begins - LOOSE_FRAMES);
    high = Math.min(high, begins + 1 + LOOSE_FRAMES);
    if (low > high) break;
    positions.push(begins);
  }
  // In the middle of what all allow; a few that are out of step may not pull it.
  positions.sort((a, b) => a - b);
  const strays = Math.floor(STRAY_SHARE * positions.length);
  const [least = 0, most = 0] = [positions[strays], positions.at(-1 - strays)];
  return { to: from + positions.length - 1, slope, atZero: (most + least + 1) / 2 };
}

/** How far one may go with any slope, from the middle of the first frame. */
function freeLine(looks: readonly TrackedLook[], from: number): Line {
  const start = looks[from];
  if (!start) return { to: from, slope: 0, atZero: 0 };
  const middle = start.frame + 0.5;
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  let to = from;
  for (let k = from + 1; k < looks.length && !standingTo(looks, k); k++) {
    const look = looks[k];
    const seconds = (look?.startSeconds ?? 0) - start.startSeconds;
    if (!look || seconds <= 0) break;
    const [lower, upper] = [
      Math.max(low, (look.frame - FREE_LOOSE_FRAMES - middle) / seconds),
      Math.min(high, (look.frame + 1 + FREE_LOOSE_FRAMES - middle) / seconds),
    ];
    if (lower > upper) break;
    [low, high] = [lower, upper];
    to = k;
  }
  if (to === from) return { to, slope: 0, atZero: start.frame };
  const slope = (low + high) / 2;
  return { to, slope, atZero: middle - slope * start.startSeconds };
}

function passOf(looks: readonly TrackedLook[], from: number, line: Line, lastEnd: number | undefined): Pass {
  const read = looks.slice(from, line.to + 1);
  const [begins, ends, next] = [read[0], read.at(-1), looks[line.to + 1]];
  if (!begins || !ends) throw new Error('a pass without looks');
  // Looks between that were not read belong to whatever moves.
  const moves = line.slope !== 0;
  const start = moves && lastEnd !== undefined ? lastEnd : begins.startSeconds;
  const end = moves && next ? next.startSeconds : ends.endSeconds;
  const position = (seconds: number) => line.atZero + line.slope * seconds;
  const within = (value: number, frame: number) => Math.min(frame + ALMOST_ONE, Math.max(frame, value));
  const first =
    moves && start < begins.startSeconds ? position(start) : within(position(start), begins.frame);
  const last = moves && end > ends.endSeconds ? position(end) : within(position(end), ends.frame);
  const readings = read.filter(({ exact }) => exact !== null);
  const agreeing = readings.filter(({ exact }) => exact).length;
  return {
    start,
    end,
    first: moves ? first : begins.frame,
    last: moves ? last : begins.frame,
    source: 'counter',
    confidence: (agreeing + 1) / (readings.length + 1 + DOUBT),
  };
}
