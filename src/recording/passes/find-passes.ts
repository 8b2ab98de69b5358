import type { Pass } from '../../basics/pass.ts';
import { overlapSeconds, type Span } from '../../basics/span.ts';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import type { Alignment } from './align.ts';
import { beliefIn } from './belief.ts';
import { type Chosen, choose, sampleAt } from './choose.ts';
import { withoutEchoes } from './echoes.ts';
import { followGuesses, type Guessed } from './follow.ts';
import { groupHits } from './group-hits.ts';
import { atHalfSpeed, HeardShot, SEARCH_RATE } from './heard.ts';
import { type Ends, placeEnds } from './place-ends.ts';
import { findHits } from './propose.ts';
import { findStretched } from './stretched.ts';
import { whiten } from './whiten.ts';

/** How shot frames lie on its sound: the first sample is the beginning of frame `first`. */
export interface ShotFrames {
  readonly fps: number;
  readonly first: number;
}

/** What is compared in the search; the top depends on the rate. */
const LOW_HZ = 150;
const HIGH_SHARE = 0.45;
/** Loud shots should not count for everything: their level is evened less than the recording's, which holds a voice. */
const RECORDING_POWER = 0.9;
const SHOT_POWER = 0.6;
/** The shot is looked for in pieces of so many of its own seconds: a play covers at least one of them. */
const PIECE_SECONDS = 0.5;
/** Chance reaches this, in standard deviations, many times in a minute: hits that agree make a guess, and guesses are verified. */
const LEAST_HEIGHT = 4.5;
/** Sum of squared heights below which a guess is not worth a closer look. */
const LEAST_SCORE = 50;
/** So many of the strongest are looked at closely, at least: more than anybody plays a shot. */
const GUESSES_A_MINUTE = 16;
const LEAST_GUESSES = 60;
/** Clocks of two machines differ by up to about 0.01 %, a room blurs by a millisecond or two: 3 ms. */
const TOLERANCE_SECONDS = 0.003;
/** The search's part of the whole time, the rest is for following what it found. */
const SEARCH_SHARE = 0.7;
/** Shorter than this is no play. */
const LEAST_SECONDS = 0.3;
/** A play found by its waveform that is less sure, or shorter, may be a piece or a tone of a stretched one. */
const SURE_NATS = 120;
const SURE_SECONDS = 2;
/** A stretched play so much longer, and so sure, goes on through what seems to be heard in its midst. */
const GOES_ON_TIMES = 3;
const GOES_ON_NATS = 80;

/**
 * Finds every stretch of a recording in which the shot's own sound is heard, whole or in part, at normal speed or at half speed
 * (lowered by an octave, or stretched at the same pitch).
 * @param recording 16 kHz mono
 * @param shot the shot's sound, 16 kHz mono, at least half a second
 * @returns passes in the order of time, none overlapping; one with a confidence below 0.5 is heard but not told from another place of
 *   a shot that repeats itself
 */
export async function findPasses(
  recording: Float32Array,
  shot: Float32Array,
  frames: ShotFrames,
  watch: Watch = {},
): Promise<Pass[]> {
  const lowered = atHalfSpeed(shot);
  const search = await evened(recording, RECORDING_POWER);
  const guesses = await guessPlays(recording, search, [new HeardShot(1, shot), new HeardShot(0.5, lowered)], {
    signal: watch.signal,
    onProgress: (done) => watch.onProgress?.(SEARCH_SHARE * done),
  });
  const alignments = await followGuesses(recording, guesses, {
    signal: watch.signal,
    onProgress: (done) => watch.onProgress?.(SEARCH_SHARE + (1 - SEARCH_SHARE) * done),
  });
  const byWaveform = choose(alignments).filter(({ alignment }) => secondsOf(alignment) >= LEAST_SECONDS);
  const sure = byWaveform.filter(isSure);
  const stretched = await findStretched(
    { recording, shot },
    new HeardShot(0.5, lowered),
    sure.map(({ alignment }) => spanOf(alignment)),
    { signal: watch.signal },
  );
  const chosen = settle(byWaveform, stretched);
  const ends = placeEnds(chosen.map(({ alignment }) => alignment));
  watch.onProgress?.(1);
  return chosen.map((one, i) => passOf(one, ends[i], frames)).filter(({ start, end }) => start < end);
}

/** Where pieces of the shot stand out, at any of the speeds, the strongest first. */
async function guessPlays(
  recording: Float32Array,
  atFullRate: Float32Array,
  speeds: readonly HeardShot[],
  watch: Watch,
): Promise<Guessed[]> {
  const guesses: Guessed[] = [];
  for (const [done, heard] of speeds.entries()) {
    // An octave lower, the shot's upper half is where its middle was.
    const rate = SEARCH_RATE * heard.speed;
    const toSample = SAMPLE_RATE / rate;
    const search = rate === SEARCH_RATE ? atFullRate : await evened(recording, RECORDING_POWER, rate);
    const sought = await evened(heard.samples, SHOT_POWER, rate);
    const pieces = {
      length: (PIECE_SECONDS / heard.speed) * rate,
      together: 3,
      leastHeight: LEAST_HEIGHT,
    };
    const hits = await findHits([search], [sought], pieces, {
      signal: watch.signal,
      onProgress: (part) => watch.onProgress?.((done + part) / speeds.length),
    });
    for (const { offset, from, to, score } of groupHits(hits, TOLERANCE_SECONDS * rate)) {
      if (score >= LEAST_SCORE)
        guesses.push({ heard, offset: offset * toSample, from: from * toSample, to: to * toSample, score });
    }
  }
  const most = Math.max(LEAST_GUESSES, (GUESSES_A_MINUTE * recording.length) / SAMPLE_RATE / 60);
  return withoutEchoes(guesses.sort((a, b) => b.score - a.score)).slice(0, most);
}

/** A sound at the rate of the search, without level and colour. */
function evened(sound: Float32Array, power: number, rateHz = SEARCH_RATE): Promise<Float32Array> {
  return whiten(sound, { rateHz, lowHz: LOW_HZ, highHz: HIGH_SHARE * rateHz, power });
}

function spanOf(alignment: Alignment): Span {
  const at = (window: number) => sampleAt(alignment, window) / SAMPLE_RATE;
  return { start: at(alignment.windows.from), end: at(alignment.windows.to) };
}

function secondsOf(alignment: Alignment): number {
  const { start, end } = spanOf(alignment);
  return end - start;
}

function isSure({ alignment, lead }: Chosen): boolean {
  return lead >= SURE_NATS && secondsOf(alignment) >= SURE_SECONDS;
}

/** Of a play found by its waveform and one found by its bands in the same time, the one that explains it better. */
function settle(byWaveform: readonly Chosen[], stretched: readonly Alignment[]): Chosen[] {
  const inside = (a: Alignment, b: Alignment) =>
    overlapSeconds(spanOf(a), spanOf(b)) > 0.5 * Math.min(secondsOf(a), secondsOf(b));
  const better = (a: Alignment, b: Alignment) =>
    a.total > b.total || (a.evidence >= GOES_ON_NATS && secondsOf(a) >= GOES_ON_TIMES * secondsOf(b));
  const kept = byWaveform.filter(
    (one) =>
      isSure(one) || !stretched.some((other) => inside(one.alignment, other) && better(other, one.alignment)),
  );
  const others = stretched.filter((other) => !kept.some(({ alignment }) => inside(alignment, other)));
  return [...kept, ...others.map((alignment) => ({ alignment, lead: alignment.evidence }))].sort(
    (a, b) => spanOf(a.alignment).start - spanOf(b.alignment).start,
  );
}

function passOf({ alignment, lead }: Chosen, ends: Ends | undefined, { fps, first }: ShotFrames): Pass {
  if (!ends) throw new Error('an alignment without ends');
  const { heard, offset, pace } = alignment;
  const { start, stop } = ends;
  const framesIn = (samples: number) => (samples / SAMPLE_RATE) * heard.speed * fps;
  const seconds = (sample: number) => Math.max(0, (offset + pace * sample) / SAMPLE_RATE);
  const errorOf = ({ at, earliest, latest }: Ends['start']) => framesIn(Math.max(at - earliest, latest - at));
  const lineError = framesIn(alignment.errorSamples);
  return {
    start: seconds(start.at),
    end: seconds(stop.at),
    first: first + framesIn(start.at),
    last: first + framesIn(stop.at),
    source: 'sound',
    confidence: beliefIn(alignment, lead),
    frameError: lineError,
    firstError: lineError + errorOf(start),
    lastError: lineError + errorOf(stop),
  };
}
