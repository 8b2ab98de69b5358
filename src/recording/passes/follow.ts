import { setImmediate } from 'node:timers/promises';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import { type Alignment, align } from './align.ts';
import { isSamePlay, LEAST_EVIDENCE, sampleAt, sharedNats } from './choose.ts';
import { HOP_SAMPLES } from './frames.ts';
import type { HeardShot } from './heard.ts';

/** A play that was guessed from a few pieces of the shot: 16 kHz samples, as in a place of align.ts. */
export interface Guessed {
  readonly heard: HeardShot;
  readonly offset: number;
  readonly from: number;
  readonly to: number;
  readonly score: number;
}

/** Where a play is tried first, round the pieces that were heard, and how far it is followed if it holds. */
const TRY_SECONDS = 1.5;
const FOLLOW_SECONDS = 20;
/** A guess so strong, and borne out so far, is tried a second time, with so much more on either side. */
const WIDER_SCORE = 60;
const WIDER_NATS = 40;
const WIDER_SECONDS = 3;
/** An alignment so sure and so long tells how the two clocks differ. */
const CLOCK_EVIDENCE = 200;
const CLOCK_SECONDS = 2;
/** Paces closer than this are one. */
const SAME_PACE = 2e-6;

/** Tries the guesses, the strongest first, and gives those that hold, at one pace of the two clocks. */
export async function followGuesses(
  recording: Float32Array,
  guesses: readonly Guessed[],
  watch: Watch,
): Promise<Alignment[]> {
  const alignments: Alignment[] = [];
  let pace: number | undefined;
  for (const [done, guess] of guesses.entries()) {
    await setImmediate();
    watch.signal?.throwIfAborted();
    watch.onProgress?.(done / guesses.length);
    if (isExplained(guess, alignments)) continue;
    const tried = attempt(recording, guess, pace);
    if (!tried || isEcho(tried, alignments)) continue;
    const followed = align(recording, guess.heard, placeOf(tried, tried.pace), FOLLOW_SECONDS, pace);
    alignments.push(surer(tried, followed));
    pace = commonPace(alignments);
  }
  return alignments.flatMap((alignment) => {
    if (pace === undefined || Math.abs(alignment.pace - pace) < SAME_PACE) return [alignment];
    const again = align(recording, alignment.heard, placeOf(alignment, pace), FOLLOW_SECONDS, pace);
    return [surer(alignment, again)];
  });
}

/** Where a strong guess does not hold by itself, the path may be heard better from what lies beside it. */
function attempt(recording: Float32Array, guess: Guessed, pace: number | undefined): Alignment | null {
  const tried = align(recording, guess.heard, guess, TRY_SECONDS, pace);
  if (tried && tried.evidence >= LEAST_EVIDENCE) return tried;
  if (!tried || tried.total < WIDER_NATS || guess.score < WIDER_SCORE) return null;
  const wider = WIDER_SECONDS * SAMPLE_RATE;
  const from = Math.max(0, guess.from - wider);
  const to = Math.min(guess.heard.samples.length, guess.to + wider);
  const again = align(recording, guess.heard, { offset: guess.offset, from, to }, TRY_SECONDS, pace);
  return again && again.evidence >= LEAST_EVIDENCE ? again : null;
}

/** Followed further, a short and faint play can be lost among what lies beside it: then it stays as it was. */
function surer(before: Alignment, after: Alignment | null): Alignment {
  return after && after.evidence >= KEPT_SHARE * before.evidence ? after : before;
}

/** Evidence may fall by so much when a play is laid again: its windows are dealt out anew. */
const KEPT_SHARE = 0.8;

/** The place of an alignment, for another pace: the middle of what is heard stays where it is. */
function placeOf({ offset, pace, firstWindow, windows }: Alignment, otherPace: number) {
  const [from, to] = [(firstWindow + windows.from) * HOP_SAMPLES, (firstWindow + windows.to) * HOP_SAMPLES];
  return { offset: offset + ((pace - otherPace) * (from + to)) / 2, from, to };
}

/** One recorder and one player have one difference of clocks: the middle of what long and sure plays say. */
function commonPace(alignments: readonly Alignment[]): number | undefined {
  const told = alignments
    .map(({ pace, windows, evidence }) => ({
      pace,
      seconds: ((windows.to - windows.from) * HOP_SAMPLES) / 16000,
      evidence,
    }))
    .filter(({ seconds, evidence }) => seconds >= CLOCK_SECONDS && evidence >= CLOCK_EVIDENCE)
    .map(({ pace, seconds, evidence }) => ({ pace, weight: seconds ** 2 * evidence }))
    .sort((a, b) => a.pace - b.pace);
  let left = told.reduce((sum, { weight }) => sum + weight, 0) / 2;
  return told.find(({ weight }) => {
    left -= weight;
    return left <= 0;
  })?.pace;
}

/** Whether a stronger alignment accounts for the guess: the same play, or a shot that resembles itself. */
function isExplained(guess: Guessed, alignments: readonly Alignment[]): boolean {
  const [start, stop] = [guess.offset + guess.from, guess.offset + guess.to];
  return alignments.some((alignment) => {
    const [from, to] = [
      sampleAt(alignment, alignment.windows.from),
      sampleAt(alignment, alignment.windows.to),
    ];
    const shared = Math.min(stop, to) - Math.max(start, from);
    if (isSamePlay(alignment, guess)) return shared > 0;
    return shared > 0.8 * (stop - start) && alignment.evidence > EXPLAINS * guess.score;
  });
}

/** Whether what was tried is told much better by an alignment at hand: a shot that repeats itself fits in many places. */
function isEcho(tried: Alignment, alignments: readonly Alignment[]): boolean {
  return alignments.some((alignment) => {
    const lead = sharedNats(alignment, tried, tried);
    return lead !== null && lead > ECHO_LEAD * tried.total;
  });
}

/** Share of its own nats by which an echo is behind. */
const ECHO_LEAD = 0.25;
/** A guess whose score is this many times below an alignment's evidence, in the same time, is its echo. */
const EXPLAINS = 4;
