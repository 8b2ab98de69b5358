import type { CounterReading } from '../../../src/recording/counter/read-counter.ts';
import type { Shown } from '../screen/recorded-shot.ts';

/** Pictures of a recording by how well passes tell the frame they show. */
export interface CounterScore {
  readonly pictures: number;
  readonly covered: number;
  /** The whole part of the position is the frame. */
  readonly right: number;
  /** Off by a frame or less. */
  readonly near: number;
  /** The counter's own number was read right. */
  readonly read: number;
  /** The sum of the confidence of the passes that the pictures lie in. */
  readonly confidence: number;
}

/** Just inside a picture's time: containers round times to their clock's ticks. */
const INSIDE_SECONDS = 0.004;

export function scoreCounter(
  truth: readonly Shown[],
  { passes, shown }: Pick<CounterReading, 'passes' | 'shown'>,
): CounterScore {
  const score = { pictures: 0, covered: 0, right: 0, near: 0, read: 0, confidence: 0 };
  for (const { seconds, frame } of truth) {
    const at = seconds + INSIDE_SECONDS;
    score.pictures++;
    const look = shown.find(({ startSeconds, endSeconds }) => startSeconds <= at && at < endSeconds);
    if (look?.frame === frame) score.read++;
    const pass = passes.find(({ start, end }) => start <= at && at < end);
    if (!pass) continue;
    const told = pass.first + ((pass.last - pass.first) * (at - pass.start)) / (pass.end - pass.start);
    score.covered++;
    score.confidence += pass.confidence;
    if (Math.floor(told) === frame) score.right++;
    if (Math.abs(Math.floor(told) - frame) <= 1) score.near++;
  }
  return score;
}
