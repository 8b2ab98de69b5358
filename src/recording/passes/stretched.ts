import type { Span } from '../../basics/span.ts';
import { SAMPLE_RATE } from '../recording.ts';
import type { Alignment } from './align.ts';
import { BANDS, type Loudness, loudnessOf } from './bands.ts';
import { HOP_SAMPLES } from './frames.ts';
import type { HeardShot } from './heard.ts';

/** 32 ms of the recording: fewer than half a film frame of a shot at half speed. */
const STEP_SAMPLES = 512;
const NEAR_STEPS = 20;
/** How much of the recording's change in loudness the shot accounts for where it is heard, between nothing (0) and all (1). */
const SHARE = 0.3;
/** Neighbouring bands and steps are alike: so much of each is news. */
const INDEPENDENT = 0.5;
const LEAST_SECONDS = 0.8;
/** A play must be this many times likelier, in nats, than the middle of all places, and than places up to 3 s beside it. */
const OVER_MIDDLE = 5.5;
const OVER_BESIDE = 1.3;
const LEAST_NATS = 40;
/** Stretchers keep to the pace within a piece or two. */
const ERROR_SAMPLES = 1024;
/** Places closer to the best than this are the same place; those up to the second are rivals. */
const SAME_STEPS = 5;
const BESIDE_STEPS = 90;

/** The best stretch of steps with the shot's first step on step `place` of the recording; `from` and `to` are the shot's steps. */
interface Stretch {
  readonly place: number;
  readonly nats: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Finds where the shot plays at half speed with its pitch kept. Players do this by moving and overlapping short pieces or by turning
 * phases, so no waveform is left to compare: what stays is how the loudness of each band rises and falls, at half the pace.
 * @param heard at half speed; alignments are given in its samples
 * @param shot the shot's sound itself
 * @param taken stretches of the recording, in seconds, that are explained already
 */
export function findStretched(
  recording: Float32Array,
  heard: HeardShot,
  shot: Float32Array,
  taken: readonly Span[],
): Alignment[] {
  const talk = loudnessOf(
    recording,
    Math.floor(recording.length / STEP_SAMPLES),
    (k) => k * STEP_SAMPLES,
    NEAR_STEPS,
  );
  const step = STEP_SAMPLES * heard.speed;
  const sought = loudnessOf(shot, Math.floor(shot.length / step), (k) => k * step, NEAR_STEPS);
  const free = freeSteps(talk.windows, taken);
  const energies = energiesOf(sought);
  const line = new Float64Array(sought.windows);
  const stretches: Stretch[] = [];
  for (let place = -sought.windows; place < talk.windows; place++) {
    fillLine(line, talk, sought, energies, free, place);
    stretches.push(bestOf(line, place));
  }
  const least = leastNats(stretches);
  const found: Stretch[] = [];
  for (const stretch of [...stretches].sort((a, b) => b.nats - a.nats)) {
    if (stretch.nats < least) break;
    if ((stretch.to - stretch.from) * STEP_SAMPLES < LEAST_SECONDS * SAMPLE_RATE) continue;
    if (found.some((other) => sharedSteps(stretch, other) > 0)) continue;
    found.push(stretch);
  }
  return found.flatMap((stretch) => {
    const rival = rivalOf(stretch, stretches, sought.windows);
    if (stretch.nats < OVER_BESIDE * rival) return [];
    fillLine(line, talk, sought, energies, free, stretch.place);
    return [
      alignmentOf(stretch, line, heard, finePlace(stretch, stretches, sought.windows), stretch.nats - rival),
    ];
  });
}

function freeSteps(steps: number, taken: readonly Span[]): Uint8Array {
  const free = new Uint8Array(steps).fill(1);
  for (const { start, end } of taken) {
    const stepOf = (seconds: number) => Math.round((seconds * SAMPLE_RATE) / STEP_SAMPLES);
    free.fill(0, Math.max(0, stepOf(start)), Math.max(0, stepOf(end)));
  }
  return free;
}

function energiesOf({ windows, values }: Loudness): Float64Array {
  return Float64Array.from({ length: windows }, (_, k) =>
    values.subarray(k * BANDS, (k + 1) * BANDS).reduce((sum, value) => sum + value * value, 0),
  );
}

/** Nats of each step of the shot at a place: for loudness of variance 1, mu (r . s) - mu^2 (s . s) / 2. */
function fillLine(
  line: Float64Array,
  talk: Loudness,
  sought: Loudness,
  energies: Float64Array,
  free: Uint8Array,
  place: number,
): void {
  const [r, s] = [talk.values, sought.values];
  for (let k = 0; k < line.length; k++) {
    if (free[place + k] !== 1) {
      line[k] = Number.NEGATIVE_INFINITY;
      continue;
    }
    let dot = 0;
    for (let band = 0, i = (place + k) * BANDS, j = k * BANDS; band < BANDS; band++, i++, j++) {
      dot += (r[i] as number) * (s[j] as number);
    }
    line[k] = INDEPENDENT * (SHARE * dot - (SHARE * SHARE * (energies[k] as number)) / 2);
  }
}

function bestOf(line: Float64Array, place: number): Stretch {
  let best: Stretch = { place, nats: 0, from: 0, to: 0 };
  let sum = 0;
  let from = 0;
  for (let k = 0; k < line.length; k++) {
    if (sum <= 0) [sum, from] = [0, k];
    sum += line[k] as number;
    if (sum > best.nats) best = { place, nats: sum, from, to: k + 1 };
  }
  return best;
}

function leastNats(stretches: readonly Stretch[]): number {
  const sorted = stretches
    .map(({ nats }) => nats)
    .filter((nats) => nats > 0)
    .sort((a, b) => a - b);
  return Math.max(LEAST_NATS, OVER_MIDDLE * (sorted[sorted.length >> 1] ?? 0));
}

function sharedSteps(a: Stretch, b: Stretch): number {
  return Math.min(a.place + a.to, b.place + b.to) - Math.max(a.place + a.from, b.place + b.from);
}

/** The best of the places beside it that explain mostly the same steps. */
function rivalOf(stretch: Stretch, stretches: readonly Stretch[], shotSteps: number): number {
  const index = stretch.place + shotSteps;
  let rival = 0;
  for (
    let i = Math.max(0, index - BESIDE_STEPS);
    i <= Math.min(stretches.length - 1, index + BESIDE_STEPS);
    i++
  ) {
    const other = stretches[i];
    if (!other || Math.abs(i - index) <= SAME_STEPS) continue;
    if (sharedSteps(stretch, other) > 0.5 * (other.to - other.from)) rival = Math.max(rival, other.nats);
  }
  return rival;
}

/** The place between steps: the top of a parabola through the best and its two neighbours. */
function finePlace({ place }: Stretch, stretches: readonly Stretch[], shotSteps: number): number {
  const [before, at, after] = [-1, 0, 1].map((step) => stretches[place + shotSteps + step]?.nats ?? 0);
  if (before === undefined || at === undefined || after === undefined) return place;
  const bend = before - 2 * at + after;
  return bend < 0 ? place + (before - after) / (2 * bend) : place;
}

function alignmentOf(
  stretch: Stretch,
  line: Float64Array,
  heard: HeardShot,
  place: number,
  lead: number,
): Alignment {
  const each = STEP_SAMPLES / HOP_SAMPLES;
  const nats = new Float64Array(heard.windows);
  for (let k = 0; k < nats.length; k++) nats[k] = Math.max(-1e3, (line[Math.floor(k / each)] ?? 0) / each);
  return {
    heard,
    offset: place * STEP_SAMPLES,
    pace: 1,
    firstWindow: 0,
    nats,
    windows: { from: stretch.from * each, to: Math.min(nats.length, stretch.to * each) },
    total: stretch.nats,
    evidence: lead,
    errorSamples: ERROR_SAMPLES,
  };
}
