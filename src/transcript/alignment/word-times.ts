import type { Span } from '../../basics/span.ts';
import type { AttentionTable } from './attention.ts';
import { warp } from './dtw.ts';
import { LOUDNESS_STEP } from './quiet.ts';

/** The rows of the attention table that belong to one word, punctuation left out. */
export interface WordRows {
  readonly first: number;
  readonly last: number;
}

/** What the times of words are made from; everything in seconds is counted from the region's start. */
export interface TimingInput {
  readonly table: AttentionTable;
  /** Seconds of one column. */
  readonly columnSeconds: number;
  /** How much earlier (negative) or later a word begins than this model looks at it. */
  readonly lagSeconds: number;
  readonly words: readonly WordRows[];
  readonly pauses: readonly Span[];
  /** Decibels, one value each LOUDNESS_STEP. */
  readonly levels: Float32Array;
  /** The region's length. */
  readonly seconds: number;
}

/** A voice is heard a moment before it passes the threshold of quiet. */
const ONSET_LEAD = 0.01;
/** A boundary inside running speech may move this far to the nearest dip in loudness … */
const DIP_REACH = 0.02;
/** … and each second it moves weighs as much as this many decibels. */
const DIP_WEIGHT = 60;
/** Shorter than this nothing can be said. */
const SHORTEST_WORD = 0.05;

/**
 * Times the words of a region: dynamic time warping over the attention gives each word its stretch, then pauses and dips
 * in loudness say where exactly it begins and ends.
 *
 * A pause belongs between two words where its middle lies between the moments at which the two were looked at most; the
 * left one then ends where the pause begins and the right one begins where it ends. Where words follow without a pause
 * they share one boundary.
 *
 * @returns One span for each word: in order, none before 0 or after `seconds`, no start before the end of the one before.
 */
export function wordTimes(input: TimingInput): Span[] {
  const { table, columnSeconds, lagSeconds, words, pauses, seconds } = input;
  const path = warp(
    table.values.map((value) => -value),
    table.rows,
    table.columns,
  );
  const rough = words.map((word) => ({
    start: (path.first[word.first] ?? 0) * columnSeconds,
    end: ((path.last[word.last] ?? 0) + 1) * columnSeconds,
  }));
  const peak = (row: number): number =>
    peakColumn(table, row, path.first[row] ?? 0, path.last[row] ?? 0) * columnSeconds;
  const starts: number[] = [];
  const ends: number[] = [];
  for (let gap = 0; gap <= words.length; gap++) {
    const left = words[gap - 1];
    const right = words[gap];
    const from = left ? peak(left.last) : 0;
    const to = right ? peak(right.first) : seconds;
    const between = pauses.filter((pause) => {
      const middle = (pause.start + pause.end) / 2;
      return middle >= from && middle <= to;
    });
    const leftEnd = rough[gap - 1]?.end ?? 0;
    const rightStart = rough[gap]?.start ?? seconds;
    const met = left && right ? dipNear(input.levels, (leftEnd + rightStart) / 2 + lagSeconds) : undefined;
    if (left) ends.push(between[0]?.start ?? met ?? leftEnd);
    const lastPause = between.at(-1);
    if (right) starts.push(lastPause ? lastPause.end - ONSET_LEAD : (met ?? rightStart + lagSeconds));
  }
  return inOrder(starts, ends, seconds);
}

function peakColumn(table: AttentionTable, row: number, first: number, last: number): number {
  let best = first;
  for (let column = first; column <= last; column++) {
    const offset = row * table.columns;
    if ((table.weights[offset + column] ?? 0) > (table.weights[offset + best] ?? 0)) best = column;
  }
  return best;
}

function dipNear(levels: Float32Array, seconds: number): number {
  let best = seconds;
  let least = Number.POSITIVE_INFINITY;
  for (let offset = -DIP_REACH; offset <= DIP_REACH + 1e-9; offset += LOUDNESS_STEP) {
    const step = Math.round((seconds + offset) / LOUDNESS_STEP);
    const level = levels[Math.min(levels.length - 1, Math.max(0, step))] ?? 0;
    const weighed = level + Math.abs(offset) * DIP_WEIGHT;
    if (weighed < least) [best, least] = [seconds + offset, weighed];
  }
  return best;
}

/** Puts spans in order: within the region, each at least a breath long where there is room, none begun before the last ended. */
function inOrder(starts: readonly number[], ends: readonly number[], seconds: number): Span[] {
  let reached = 0;
  return starts.map((wanted, index) => {
    const start = Math.min(Math.max(wanted, reached), seconds);
    const next = starts[index + 1] ?? seconds;
    const end = Math.min(seconds, Math.max(ends[index] ?? start, start + SHORTEST_WORD));
    reached = Math.max(start, Math.min(end, Math.max(next, start + SHORTEST_WORD)));
    return { start, end: reached };
  });
}
