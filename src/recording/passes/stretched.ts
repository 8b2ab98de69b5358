import type { Span } from '../../basics/span.ts';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import { type Alignment, likeliest } from './align.ts';
import { loudnessOf } from './bands.ts';
import type { Windows } from './evidence.ts';
import { HOP_SAMPLES } from './frames.ts';
import { groupHits } from './group-hits.ts';
import type { HeardShot } from './heard.ts';
import { type Channels, findHits } from './propose.ts';
import { uncorrelate } from './uncorrelated.ts';

/** 16 ms of the recording: a fifth of a film frame of a shot at half speed. */
const STEP_SAMPLES = 256;
const NEAR_STEPS = 64;
/** Of the shot, what is softer than a band's mean power will be under talk and noise: only what is louder is looked for. */
const FLOOR = 0.1;
const SHOT_FLOOR = 1;
/** A place is looked for so far beside a guess, and the stretch in which it is heard found anew so many times. */
const REACH_STEPS = 4;
const ROUNDS = 2;
/** Rivals are looked for this close to each other. */
const RIVAL_STEPS = 4;
/** 0.77 s each, so that a play covers one or nearly so. */
const PIECES = { length: 48, together: 20, leastHeight: 4.5 };
/** Places so close (80 ms) are one; stretchers move pieces about by so much. */
const SAME_STEPS = 5;
/** Beyond this (0.2 s) of the best, another place is a rival. */
const BESIDE_STEPS = 12;
const LEAST_SECONDS = 0.8;
/** Less than this, in nats, is not looked at; by pieces and bands together, talk reaches this by chance. */
const LEAST_NATS = 20;
/** So many of the likeliest are looked at closely. */
const CANDIDATES_A_MINUTE = 8;
const LEAST_CANDIDATES = 20;
/** Strange places at which it is counted what chance does. */
const STRANGE_PLACES = 120;
/** Of the shot's stretch, so much must fall on what is not explained already, at so many places at least. */
const LEAST_FREE = 0.5;
const FEWEST_PLACES = 5;
/** Stretchers keep to the pace within a piece or two. */
const ERROR_SAMPLES = 1024;
const STEP_SECONDS = STEP_SAMPLES / SAMPLE_RATE;

/** Where the shot may be: step of the recording at which it begins or would begin, and the shot's steps that are heard. */
interface Candidate {
  readonly offset: number;
  readonly from: number;
  readonly to: number;
  readonly nats: number;
}

/** The two sounds as they are compared. */
export interface Compared {
  readonly recording: Float32Array;
  readonly shot: Float32Array;
}

/**
 * Finds where the shot plays at half speed with its pitch kept. Players do this by moving and overlapping short pieces or by turning
 * phases, and no waveform is left to be followed: what is found is how the loudness of each band rises and falls at half the pace.
 * @param heard at half speed; alignments are given in its samples
 * @param sounds as they are
 * @param taken stretches of the recording, in seconds, that are explained already
 */
export async function findStretched(
  sounds: Compared,
  heard: HeardShot,
  taken: readonly Span[],
  watch: Watch = {},
): Promise<Alignment[]> {
  const { recording: talk, shot: sought } = uncorrelate(
    loudnessOf(sounds.recording, {
      hop: STEP_SAMPLES,
      nearWindows: NEAR_STEPS,
      floor: FLOOR,
      onlyLoud: false,
    }),
    loudnessOf(sounds.shot, {
      hop: STEP_SAMPLES * heard.speed,
      nearWindows: NEAR_STEPS,
      floor: SHOT_FLOOR,
      onlyLoud: true,
    }),
  );
  const free = silence(talk, taken);
  const guesses = groupHits(await findHits(talk, sought, PIECES, watch), SAME_STEPS);
  const candidates = guesses
    .map((guess) => ({ ...guess, nats: guess.score / 2 }))
    .sort((a, b) => b.nats - a.nats)
    .slice(0, Math.max(LEAST_CANDIDATES, (CANDIDATES_A_MINUTE * sounds.recording.length) / SAMPLE_RATE / 60));
  const found: Alignment[] = [];
  for (const candidate of candidates) {
    if (found.some((other) => holdsMost(other, candidate))) continue;
    const alignment = alignmentOf(candidate, { talk, free, sought }, heard);
    if (!alignment || found.some((other) => shareTime(alignment, other))) continue;
    found.push(alignment);
  }
  return found;
}

/** Silences what is explained already. @returns for each step 1 where it is not, and 0 where it is */
function silence(talk: Channels, taken: readonly Span[]): Float32Array {
  const free = new Float32Array(talk[0]?.length ?? 0).fill(1);
  for (const { start, end } of taken) {
    const [from, to] = [start, end].map((second) => Math.max(0, Math.round(second / STEP_SECONDS)));
    for (const series of [...talk, free]) series.fill(0, from, to);
  }
  return free;
}

/** For each of the shot's steps, the products with the recording's step under it, summed over the bands. */
function productsAt(talk: Channels, sought: Channels, place: number, from: number, to: number): Float64Array {
  const sums = new Float64Array(to - from);
  const [first, end] = [Math.max(from, -place), Math.min(to, (talk[0]?.length ?? 0) - place)];
  for (const [band, s] of sought.entries()) {
    const r = talk[band] as Float32Array;
    for (let k = first; k < end; k++) {
      sums[k - from] = (sums[k - from] as number) + (r[place + k] as number) * (s[k] as number);
    }
  }
  return sums;
}

const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

interface Evidences {
  /** 1 for each step that is not explained already. */
  readonly free: Float32Array;
  readonly talk: Channels;
  readonly sought: Channels;
}

function alignmentOf(
  { offset: guessed, from, to }: Candidate,
  { talk, free, sought }: Evidences,
  heard: HeardShot,
): Alignment | null {
  const steps = sought[0]?.length ?? 0;
  const energies = productsAt(sought, sought, 0, 0, steps);
  let stretch: Windows = { from, to: Math.min(to, steps) };
  let offset = guessed;
  let chance = 0;
  let line = new Float64Array(steps);
  let nats = 0;
  for (let round = 0; round < ROUNDS; round++) {
    offset = best(REACH_STEPS);
    const energy = total(energies.subarray(stretch.from, stretch.to));
    const share = Math.max(0, productOf(offset, stretch) / energy);
    chance = chanceOf({ talk, free, sought }, energies, stretch);
    // Of values whose variance is `chance` times the energy: share (r . s) - share^2 (s . s) / 2 over that.
    line = productsAt(talk, sought, offset, 0, steps).map(
      (product, k) => (share * product - (share * share * (energies[k] as number)) / 2) / chance,
    );
    stretch = likeliest(line);
    nats = total(line.subarray(stretch.from, stretch.to));
    if (nats < LEAST_NATS || (stretch.to - stretch.from) * STEP_SAMPLES < LEAST_SECONDS * SAMPLE_RATE)
      return null;
  }
  const here = natsAt(0);
  let rival = 0;
  const least = 0.7 * (stretch.to - stretch.from);
  for (let shift = -steps; shift <= steps; shift += RIVAL_STEPS) {
    if (Math.abs(shift) < BESIDE_STEPS) continue;
    if (Math.min(steps, stretch.to - shift) - Math.max(0, stretch.from - shift) < least) continue;
    rival = Math.max(rival, natsAt(shift));
  }
  return alignmentFrom(line, stretch, { nats, lead: here - rival }, finePlace(), heard);

  function productOf(place: number, part: Windows): number {
    return total(productsAt(talk, sought, place, part.from, part.to));
  }

  function best(reach: number): number {
    let [place, most] = [offset, Number.NEGATIVE_INFINITY];
    for (let at = offset - reach; at <= offset + reach; at++) {
      const product = productOf(at, stretch);
      if (product > most) [place, most] = [at, product];
    }
    return place;
  }

  /** What the stretch of the recording says for the shot laid so many steps later. */
  function natsAt(shift: number): number {
    const part = { from: Math.max(0, stretch.from - shift), to: Math.min(steps, stretch.to - shift) };
    const product = Math.max(0, productOf(offset + shift, part));
    return product ** 2 / (2 * chance * total(energies.subarray(part.from, part.to)) + 1e-9);
  }

  /** The place between steps: the top of a parabola through the best and those two steps beside it. */
  function finePlace(): number {
    const [before, at, after] = [natsAt(-2), here, natsAt(2)] as const;
    const bend = before - 2 * at + after;
    const shift = bend < 0 ? (before - after) / bend : 0;
    return offset + Math.max(-2, Math.min(2, shift));
  }
}

/** Variance, for an energy of 1, of the summed products at places where the shot is not. */
function chanceOf({ talk, free, sought }: Evidences, energies: Float64Array, { from, to }: Windows): number {
  const all = free.length - (to - from);
  const needed = LEAST_FREE * total(energies.subarray(from, to));
  const squares: number[] = [];
  for (let i = 0; i < STRANGE_PLACES; i++) {
    const place = Math.floor((all * (i + 0.5)) / STRANGE_PLACES) - from;
    let energy = 0;
    for (let k = from; k < to; k++) energy += (energies[k] as number) * (free[place + k] ?? 0);
    if (energy > needed) squares.push(total(productsAt(talk, sought, place, from, to)) ** 2 / energy);
  }
  // The shot may play at a few of them: those are left out.
  squares.sort((a, b) => a - b);
  const most = 16 * (squares[squares.length >> 1] ?? 0);
  const strange = squares.filter((square) => square <= most);
  if (strange.length < FEWEST_PLACES) return Number.POSITIVE_INFINITY;
  return strange.reduce((sum, square) => sum + square, 0) / strange.length;
}

function alignmentFrom(
  line: Float64Array,
  stretch: Windows,
  { nats, lead }: { nats: number; lead: number },
  place: number,
  heard: HeardShot,
): Alignment {
  const each = STEP_SAMPLES / HOP_SAMPLES;
  const nats8 = new Float64Array(heard.windows);
  for (let k = 0; k < nats8.length; k++) nats8[k] = Math.max(-1e3, (line[Math.floor(k / each)] ?? 0) / each);
  return {
    heard,
    by: 'bands',
    offset: place * STEP_SAMPLES,
    pace: 1,
    firstWindow: 0,
    nats: nats8,
    windows: { from: stretch.from * each, to: Math.min(nats8.length, stretch.to * each) },
    total: nats,
    evidence: Math.min(lead, nats),
    errorSamples: ERROR_SAMPLES,
  };
}

/** Whether the middle half of what is guessed lies in a stretch that is explained already. */
function holdsMost({ offset, windows }: Alignment, guess: Candidate): boolean {
  const quarter = (guess.to - guess.from) / 4;
  const [start, end] = [guess.from + quarter, guess.to - quarter].map(
    (step) => (guess.offset + step) * STEP_SAMPLES,
  ) as [number, number];
  return offset + windows.from * HOP_SAMPLES < start && offset + windows.to * HOP_SAMPLES > end;
}

function shareTime(a: Alignment, b: Alignment): boolean {
  const at = ({ offset }: Alignment, window: number) => offset + window * HOP_SAMPLES;
  return (
    Math.min(at(a, a.windows.to), at(b, b.windows.to)) >
    Math.max(at(a, a.windows.from), at(b, b.windows.from))
  );
}
