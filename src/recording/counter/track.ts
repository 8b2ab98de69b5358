import { secondsToFrames } from '../../basics/time.ts';
import { misreadingCost } from './edits.ts';
import type { Look } from './looks.ts';
import { digitsOf, frameOf, type Meaning, type ShotRange } from './meaning.ts';
import type { Reading } from './ocr.ts';
import type { ReadLook } from './read-looks.ts';

/** A stretch of the recording and the frame the counter most likely shows. */
export interface TrackedLook {
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly frame: number;
  /** Whether the reading says this frame to the letter; null where it was not read, but lies between two that were. */
  readonly exact: boolean | null;
}

/** What it costs to believe that a reading is wrong at all, and by how much, beside what a jump costs. */
const MISREADING = 2.4;
const MISREADING_A_UNIT = 1.2;
/** However wrong, a reading costs no more: it may be rubbish. */
const MOST_MISREADING = 7;
const LONE_DIGIT = 0.75;
/** Speeds at which players play, as parts of the shot's rate, and what believing in one costs. */
const SPEEDS: readonly (readonly [speed: number, cost: number])[] = [
  [1, 0.1],
  [0.5, 0.5],
  [-1, 0.7],
  [0.25, 0.7],
  [2, 0.7],
  [-0.5, 0.9],
];
/** Frames; half a frame is allowed for besides. */
const SPEED_TOLERANCE = 1.8;
/** A new look is mostly a new frame: the pixels changed. */
const SAME_COST = 0.25;
const STEP_COST = 0.6;
/** A jump is likelier where the shot stood before: people stop, then go elsewhere. */
const JUMP_COST = 2.2;
const JUMP_COST_AFTER_STANDING = 1.4;
const JUMP_COST_A_DOUBLING = 0.15;
const STANDING_SECONDS = 0.12;
/** Frames that a reading may stand for, at most; those that it fits best. */
const MOST_STATES = 36;
/** Frames outside the shot that a counter may run into: handles at the cut. */
const HANDLES = 100;

interface State {
  readonly frame: number;
  readonly cost: number;
  readonly before: State | null;
}

/**
 * The most likely way of the counter through its readings (Viterbi 1967): misreadings cost by how far they are from what
 * would be shown, and movement by how little it is like standing, playing or stepping.
 */
export function trackFrames(
  looks: readonly Look[],
  read: readonly ReadLook[],
  meaning: Meaning,
  shot: ShotRange,
): TrackedLook[] {
  const said = read.map(({ reading }) => within(frameOf(reading.text, meaning, shot), shot));
  const frames = range(said, shot);
  const fits = new Map<string, ReadonlyMap<number, number>>();
  const fitting = (text: string) => {
    const known = fits.get(text) ?? statesFor(text, frames, meaning, shot);
    fits.set(text, known);
    return known;
  };
  let states: State[] = [];
  const rows = read.map(({ look, reading }, i) => {
    const costs = new Map(fitting(reading.text.replaceAll(/\D/g, '')));
    for (const frame of neighbours(read, said, i, shot)) {
      if (!costs.has(frame))
        costs.set(frame, costOf(reading.text.replaceAll(/\D/g, ''), frame, meaning, shot));
    }
    const weight = weightOf(reading);
    const before = states;
    const last = read[i - 1]?.look;
    states = [...costs].map(([frame, misreading]) => {
      let best: State = { frame, cost: weight * misreading, before: null };
      if (last && before.length > 0) {
        let least = Number.POSITIVE_INFINITY;
        for (const state of before) {
          const cost = state.cost + moveCost(state.frame, frame, last, look.startSeconds, shot.fps);
          if (cost >= least) continue;
          least = cost;
          best = { frame, cost: cost + weight * misreading, before: state };
        }
      }
      return best;
    });
    return states;
  });
  const way: number[] = [];
  let at: State | null = rows.at(-1)?.reduce((a, b) => (b.cost < a.cost ? b : a)) ?? null;
  for (; at; at = at.before) way.unshift(at.frame);
  return filledIn(
    looks,
    read.map(({ index }, i) => ({ index, frame: way[i] ?? shot.first, exact: said[i] === way[i] })),
  );
}

/** Gives the looks between two that were read their frames: evenly, as they were found to go before they were left unread. */
function filledIn(
  looks: readonly Look[],
  read: readonly { readonly index: number; readonly frame: number; readonly exact: boolean }[],
): TrackedLook[] {
  return read.flatMap(({ index, frame, exact }, i) => {
    const next = read[i + 1];
    const many = (next?.index ?? index + 1) - index;
    const step = next ? (next.frame - frame) / many : 0;
    return looks.slice(index, index + many).map(({ startSeconds, endSeconds }, k) => ({
      startSeconds,
      endSeconds,
      frame: Math.round(frame + k * step),
      exact: k === 0 ? exact : null,
    }));
  });
}

/** How far a reading is to be relied on. A lone digit has no neighbours to be recognised by: a dotted 0 is read as 9. */
function weightOf({ text, confidence }: Reading): number {
  return (text.length === 1 ? LONE_DIGIT : 1) * (0.5 + 0.5 * confidence);
}

function within(frame: number | null, { first, last }: ShotRange): number | null {
  if (frame === null || frame < first - HANDLES) return null;
  return last === null || frame <= last + HANDLES ? frame : null;
}

/** Every frame that the counter may show: the shot's, one more at both ends (it may count from 0), others that were read. */
function range(said: readonly (number | null)[], { first, last }: ShotRange): number[] {
  const read = new Set(said.filter((frame) => frame !== null));
  if (last !== null) for (let frame = first - 1; frame <= last + 1; frame++) read.add(frame);
  return [...read].sort((a, b) => a - b);
}

function costOf(digits: string, frame: number, meaning: Meaning, shot: ShotRange): number {
  const shown = digitsOf(frame, meaning, shot);
  if (digits === '' || shown === null) return MOST_MISREADING;
  if (shown === digits) return 0;
  return Math.min(MOST_MISREADING, MISREADING + MISREADING_A_UNIT * misreadingCost(shown, digits));
}

function statesFor(
  digits: string,
  frames: readonly number[],
  meaning: Meaning,
  shot: ShotRange,
): Map<number, number> {
  if (digits === '') return new Map();
  const costs = frames.map((frame) => [frame, costOf(digits, frame, meaning, shot)] as const);
  return new Map(costs.sort((a, b) => a[1] - b[1]).slice(0, MOST_STATES));
}

/** Frames that the readings around this one would lead to. */
function neighbours(
  read: readonly ReadLook[],
  said: readonly (number | null)[],
  i: number,
  shot: ShotRange,
): Set<number> {
  const frames = new Set<number>();
  for (const other of [i - 3, i - 2, i - 1, i + 1, i + 2, i + 3]) {
    const [frame, here, there] = [said[other], read[i]?.look, read[other]?.look];
    if (typeof frame !== 'number' || !here || !there) continue;
    const played = secondsToFrames(here.startSeconds - there.startSeconds, shot.fps);
    for (const change of [0, Math.floor(played), Math.ceil(played)]) frames.add(frame + change);
  }
  return frames;
}

/**
 * What it costs to come from the frame of a look that ended to that of a look that starts. A look ends when the next frame
 * appears: from then on the frames between were played.
 */
function moveCost(from: number, to: number, left: Look, nextSeconds: number, fps: number): number {
  const change = to - from;
  if (change === 0) return SAME_COST;
  const size = Math.abs(change);
  const stood = left.endSeconds - left.startSeconds >= STANDING_SECONDS;
  const jump = (stood ? JUMP_COST_AFTER_STANDING : JUMP_COST) + JUMP_COST_A_DOUBLING * Math.log2(size);
  let cost = Math.min(jump, STEP_COST * size);
  for (const [speed, speedCost] of SPEEDS) {
    const played = secondsToFrames(nextSeconds - left.endSeconds, fps) * speed + Math.sign(speed) / 2;
    if (speedCost < cost && Math.abs(change - played) <= SPEED_TOLERANCE) cost = speedCost;
  }
  return cost;
}
