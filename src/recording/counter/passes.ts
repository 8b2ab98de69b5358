import type { Pass } from '../../basics/pass.ts';
import { exactRate } from '../../basics/rate.ts';
import type { TrackedLook } from './track.ts';

/** A frame that is seen at least so long stands. */
const STANDING_SECONDS = 0.12;
/**
 * How far looks may contradict a line, in frames: not at all where nothing hiccups, a little where players skip and wait.
 * A line without hiccups is taken where it goes on for so many looks, or for this part of the other.
 */
const LOOSE_FRAMES: readonly number[] = [-0.03, 0.4];
const EVEN_SHARE = 0.4;
const EVEN_LOOKS = 8;
/** Room for the rounding of times. */
const EDGE_FRAMES = 0.1;
/** A known speed is taken where it goes so far in looks, and at least this part of what any speed can. */
const LEAST_STEPS = 3;
const KNOWN_SPEED_SHARE = 0.7;
/** Speeds that players have, tried before any other. */
const SPEEDS: readonly number[] = [1, -1, 0.5, -0.5, 0.25, 2];
/** How far the ends of a pass may be off the frames that were seen there: a picture comes late by a frame or two. */
const OVERRUN = 2;
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
  return seconds >= STANDING_SECONDS ? { to, slope: 0, atZero: start.frame } : null;
}

/** The steady line that goes on longest, but rather one at a speed that players have, and rather one without hiccups. */
function movingTo(looks: readonly TrackedLook[], from: number, fps: number): Line {
  const rate = exactRate(fps).perSecond;
  const [even, uneven] = LOOSE_FRAMES.map((loose) =>
    SPEEDS.map((speed) => lineAt(looks, from, speed * rate, loose)).reduce((a, b) => (b.to > a.to ? b : a)),
  );
  const free = freeLine(looks, from);
  const enough = Math.min(EVEN_LOOKS, EVEN_SHARE * ((uneven?.to ?? from) - from));
  const known = even && even.to - from >= enough ? even : uneven;
  const reach = (known?.to ?? from) - from;
  return known && reach >= LEAST_STEPS && reach >= KNOWN_SPEED_SHARE * (free.to - from) ? known : free;
}

/** How far one may go with this slope, standing stretches not included. */
function lineAt(looks: readonly TrackedLook[], from: number, slope: number, loose: number): Line {
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  let shortest = Number.POSITIVE_INFINITY;
  let to = from;
  for (let k = from; k < looks.length && (k === from || !standingTo(looks, k)); k++) {
    const look = looks[k];
    if (!look) break;
    const begins = look.frame - slope * look.startSeconds;
    // The next frame came at some time in the look's last picture.
    shortest = Math.min(shortest, look.endSeconds - look.startSeconds);
    const ends = look.frame - slope * (look.endSeconds - shortest);
    const lower = Math.max(low, begins, ends);
    const upper = Math.min(high, begins + 1, ends + 1);
    if (lower > upper + loose) break;
    [low, high] = [lower, upper];
    to = k;
  }
  // A frame is pictured when it appears or up to a picture later, never sooner: the line is at that edge.
  const inside = Math.min(EDGE_FRAMES, (high - low) / 2);
  return { to, slope, atZero: slope > 0 ? low + inside : high - inside };
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
      Math.max(low, (look.frame - middle) / seconds),
      Math.min(high, (look.frame + 1 - middle) / seconds),
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
  const moves = line.slope !== 0;
  // What lies between two passes belongs to the one that moves.
  const start = moves && lastEnd !== undefined ? lastEnd : begins.startSeconds;
  const end = moves && next ? next.startSeconds : ends.endSeconds;
  const position = (seconds: number, frame: number) =>
    Math.min(frame + OVERRUN, Math.max(frame - OVERRUN, line.atZero + line.slope * seconds));
  const readings = read.filter(({ exact }) => exact !== null);
  const agreeing = readings.filter(({ exact }) => exact).length;
  return {
    start,
    end,
    first: moves ? position(start, begins.frame) : begins.frame,
    last: moves ? position(end, ends.frame) : begins.frame,
    source: 'counter',
    confidence: (agreeing + 1) / (readings.length + 1 + DOUBT),
  };
}
