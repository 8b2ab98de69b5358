import type { Span } from '../../basics/span.ts';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import { type Alignment, likeliest } from './align.ts';
import { loudnessOf } from './bands.ts';
import { HOP_SAMPLES } from './frames.ts';
import { type Guess, groupHits } from './group-hits.ts';
import type { HeardShot } from './heard.ts';
import { type Channels, findHits } from './propose.ts';

/** 16 ms of the recording: a fifth of a film frame of a shot at half speed. */
const STEP_SAMPLES = 256;
const NEAR_STEPS = 40;
/** 0.77 s each, so that a play covers one or nearly so. */
const PIECES = { length: 48, together: 20, inRow: [2, 4, 8], leastHeight: 5 };
/** Places so close (80 ms) are one; stretchers move pieces about by so much. */
const SAME_STEPS = 5;
/** Beyond this (0.2 s) of the best, another place is a rival. */
const BESIDE_STEPS = 12;
const LEAST_SECONDS = 0.8;
/** Less than this, in nats, is what talk does by chance. */
const LEAST_NATS = 12;
/** Strange places at which it is counted what chance does. */
const STRANGE_PLACES = 150;
/** Stretchers keep to the pace within a piece or two. */
const ERROR_SAMPLES = 1024;

/**
 * Finds where the shot plays at half speed with its pitch kept. Players do this by moving and overlapping short pieces or by turning
 * phases, so no waveform is left to compare: what stays is how the loudness of each band rises and falls, at half the pace.
 * @param heard at half speed; alignments are given in its samples
 * @param shot the shot's sound itself
 * @param taken stretches of the recording, in seconds, that are explained already
 */
export async function findStretched(
  recording: Float32Array,
  heard: HeardShot,
  shot: Float32Array,
  taken: readonly Span[],
  watch: Watch = {},
): Promise<Alignment[]> {
  const talk = loudnessOf(recording, STEP_SAMPLES, NEAR_STEPS);
  silence(talk, taken);
  const sought = loudnessOf(shot, STEP_SAMPLES * heard.speed, NEAR_STEPS);
  const guesses = groupHits(await findHits(talk, sought, PIECES, watch), SAME_STEPS);
  const found: Alignment[] = [];
  for (const guess of guesses) {
    if (found.some((other) => holdsMost(other, guess))) continue;
    const alignment = alignmentOf(guess, talk, sought, heard);
    if (!alignment || found.some((other) => shareTime(alignment, other))) continue;
    found.push(alignment);
  }
  return found;
}

function silence(talk: Channels, taken: readonly Span[]): void {
  for (const { start, end } of taken) {
    const stepOf = (seconds: number) => Math.max(0, Math.round((seconds * SAMPLE_RATE) / STEP_SAMPLES));
    for (const band of talk) band.fill(0, stepOf(start), stepOf(end));
  }
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

function alignmentOf(
  { offset, from, to }: Guess,
  talk: Channels,
  sought: Channels,
  heard: HeardShot,
): Alignment | null {
  const steps = sought[0]?.length ?? 0;
  const last = Math.min(to, steps);
  const energies = productsAt(sought, sought, 0, 0, steps);
  const guessed = total(energies.subarray(from, last));
  const share = total(productsAt(talk, sought, offset, from, last)) / guessed;
  const chance = chanceOf(talk, sought, from, last) / guessed;
  if (share <= 0) return null;
  const products = productsAt(talk, sought, offset, 0, steps);
  // Of values whose variance is `chance` times the energy: share (r . s) - share^2 (s . s) / 2 over that.
  const line = products.map(
    (product, k) => (share * product - (share * share * (energies[k] as number)) / 2) / chance,
  );
  const { from: start, to: stop } = likeliest(line);
  const nats = total(line.subarray(start, stop));
  if (nats < LEAST_NATS || (stop - start) * STEP_SAMPLES < LEAST_SECONDS * SAMPLE_RATE) return null;
  const met = (place: number) => total(productsAt(talk, sought, place, start - (place - offset), stop - (place - offset)));
  return alignmentFrom(line, { start, stop, nats }, rivalOf(), finePlace(), heard);

  /** How much less likely, in nats, the likeliest other place of the shot is for the same stretch of the recording. */
  function rivalOf(): number {
    const energy = total(energies.subarray(start, stop));
    const height = (product: number, under: number) => Math.max(0, product) / Math.sqrt(chance * under);
    const best = height(total(products.subarray(start, stop)), energy);
    let rival = 0;
    const least = 0.7 * (stop - start);
    for (let shift = -steps; shift <= steps; shift += 2) {
      if (Math.abs(shift) < BESIDE_STEPS) continue;
      const [first, end] = [Math.max(0, start - shift), Math.min(steps, stop - shift)];
      if (end - first < least) continue;
      const under = total(energies.subarray(first, end));
      rival = Math.max(rival, height(total(productsAt(talk, sought, offset + shift, first, end)), under));
    }
    return (best ** 2 - rival ** 2) / 2;
  }

  /** The place between steps: the top of a parabola through the best and its two neighbours. */
  function finePlace(): number {
    const [before, at, after] = [met(offset - 1), met(offset), met(offset + 1)] as const;
    const bend = before - 2 * at + after;
    const shift = bend < 0 ? (before - after) / (2 * bend) : 0;
    return offset + Math.max(-1, Math.min(1, shift));
  }
}

/** Variance of the summed products at places where the shot is not. */
function chanceOf(talk: Channels, sought: Channels, from: number, to: number): number {
  const all = (talk[0]?.length ?? 0) - (to - from);
  const squares: number[] = [];
  for (let i = 0; i < STRANGE_PLACES; i++) {
    const place = Math.floor((all * (i + 0.5)) / STRANGE_PLACES);
    squares.push(total(productsAt(talk, sought, place - from, from, to)) ** 2);
  }
  // The shot may play at a few of them: those are left out.
  const heard = squares.filter((square) => square > 0).sort((a, b) => a - b);
  const most = 16 * (heard[heard.length >> 1] ?? 0);
  const strange = heard.filter((square) => square <= most);
  if (strange.length === 0) return Number.POSITIVE_INFINITY;
  return strange.reduce((sum, square) => sum + square, 0) / strange.length;
}

function alignmentFrom(
  line: Float64Array,
  { start, stop, nats }: { start: number; stop: number; nats: number },
  lead: number,
  place: number,
  heard: HeardShot,
): Alignment {
  const each = STEP_SAMPLES / HOP_SAMPLES;
  const each8 = new Float64Array(heard.windows);
  for (let k = 0; k < each8.length; k++) each8[k] = Math.max(-1e3, (line[Math.floor(k / each)] ?? 0) / each);
  return {
    heard,
    offset: place * STEP_SAMPLES,
    pace: 1,
    firstWindow: 0,
    nats: each8,
    windows: { from: start * each, to: Math.min(each8.length, stop * each) },
    total: nats,
    evidence: lead,
    errorSamples: ERROR_SAMPLES,
  };
}

/** Whether the middle half of what is guessed lies in a stretch that is explained already. */
function holdsMost({ offset, windows }: Alignment, guess: Guess): boolean {
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
