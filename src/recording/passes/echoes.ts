import { SAMPLE_RATE } from '../recording.ts';
import type { Guessed } from './follow.ts';

/** A guess that says less than this share of what a stronger one says of the same time is its echo: a room, a tone, a rhythm. */
const ECHO_SHARE = 0.25;
/** Of those that say about the same, so many are looked at closely: a shot that repeats itself is heard at many of its places. */
const MOST_RIVALS = 4;
const SLOT_SAMPLES = SAMPLE_RATE / 2;

/**
 * Leaves out guesses that everywhere lie in the time of much stronger ones, or of several that are as strong.
 * Strong is what says much in little time.
 */
export function withoutEchoes(guesses: readonly Guessed[]): Guessed[] {
  const slots = new Map<number, Guessed[]>();
  for (const guess of [...guesses].sort((a, b) => density(b) - density(a))) {
    for (const slot of slotsOf(guess)) {
      const there = slots.get(slot) ?? [];
      const enough = density(guess) >= ECHO_SHARE * density(there[0] ?? guess);
      if (there.length < MOST_RIVALS && enough) slots.set(slot, [...there, guess]);
    }
  }
  const kept = new Set([...slots.values()].flat());
  return guesses.filter((guess) => kept.has(guess));
}

function density({ score, from, to }: Guessed): number {
  return score / (to - from);
}

/** Half seconds of the recording that a guess covers for the most part. */
function slotsOf({ offset, from, to }: Guessed): number[] {
  const [first, end] = [offset + from, offset + to].map((at) => Math.round(at / SLOT_SAMPLES));
  return Array.from(
    { length: Math.max(1, (end as number) - (first as number)) },
    (_, i) => (first as number) + i,
  );
}
