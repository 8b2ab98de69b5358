import { setImmediate } from 'node:timers/promises';
import type { Pass } from '../../basics/pass.ts';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import { type Chosen, choose } from './choose.ts';
import { followGuesses, type Guessed } from './follow.ts';
import { groupHits } from './group-hits.ts';
import { atHalfSpeed, forSearch, HeardShot, SEARCH_RATE } from './heard.ts';
import { type End, placeEnds } from './place-ends.ts';
import { findHits } from './propose.ts';
import { whiten } from './whiten.ts';

/** How shot frames lie on its sound: the first sample is the beginning of frame `first`. */
export interface ShotFrames {
  readonly fps: number;
  readonly first: number;
}

const BAND = { rateHz: SEARCH_RATE, lowHz: 150, highHz: 1850 };
/** Loud shots should not count for everything: their level is evened less than the recording's, which holds a voice. */
const RECORDING_POWER = 0.9;
const SHOT_POWER = 0.6;
const PIECE_SECONDS = 1;
const LEAST_HEIGHT = 4;
/** Sum of squared heights below which chance is likelier than a play. */
const LEAST_SCORE = 44;
const SEARCH_TO_SAMPLE = SAMPLE_RATE / SEARCH_RATE;
/**
 * Finds every stretch of a recording in which the shot's own sound is heard, whole or in part, at normal or at half speed.
 * @param recording 16 kHz mono
 * @param shot the shot's sound, 16 kHz mono, at least half a second
 * @returns passes in the order of time, none overlapping
 */
export async function findPasses(
  recording: Float32Array,
  shot: Float32Array,
  frames: ShotFrames,
  options: Watch = {},
): Promise<Pass[]> {
  const search = whiten(forSearch(recording), { ...BAND, power: RECORDING_POWER });
  const speeds: HeardShot[] = [new HeardShot(1, shot), new HeardShot(0.5, atHalfSpeed(shot))];
  const guesses: Guessed[] = [];
  for (const heard of speeds) {
    options.signal?.throwIfAborted();
    await setImmediate();
    const piece = (PIECE_SECONDS / heard.speed) * SEARCH_RATE;
    const sought = whiten(forSearch(heard.samples), { ...BAND, power: SHOT_POWER });
    const hits = findHits(search, sought, { length: piece, hop: piece / 2, leastHeight: LEAST_HEIGHT });
    for (const guess of groupHits(hits, Math.min(piece, sought.length), LEAST_SCORE)) {
      const [offset, from, to] = [guess.offset, guess.from, guess.to].map((x) => x * SEARCH_TO_SAMPLE);
      guesses.push({ heard, offset: offset ?? 0, from: from ?? 0, to: to ?? 0, score: guess.score });
    }
  }
  guesses.sort((a, b) => b.score - a.score);
  if (process.env.DBG) console.log('guesses', guesses.length);
  const alignments = await followGuesses(recording, guesses, options);
  const chosen = choose(alignments);
  const ends = placeEnds(chosen.map(({ alignment }) => alignment));
  return chosen.flatMap((one, i) => {
    const placed = ends[i];
    return placed ? [passOf(one, placed.start, placed.stop, frames)] : [];
  });
}

function passOf({ alignment, lead }: Chosen, start: End, stop: End, { fps, first }: ShotFrames): Pass {
  const { heard, offset, pace } = alignment;
  const framesIn = (samples: number) => (samples / SAMPLE_RATE) * heard.speed * fps;
  const seconds = (sample: number) => Math.max(0, (offset + pace * sample) / SAMPLE_RATE);
  return {
    start: seconds(start.at),
    end: seconds(stop.at),
    first: first + framesIn(start.at),
    last: first + framesIn(stop.at),
    source: 'sound',
    confidence: 1 / (1 + Math.exp(-(Math.min(lead, alignment.evidence) - 30) / 10)),
    frameError: framesIn(64),
    firstError: framesIn(64 + Math.max(start.at - start.earliest, start.latest - start.at)),
    lastError: framesIn(64 + Math.max(stop.at - stop.earliest, stop.latest - stop.at)),
  };
}
