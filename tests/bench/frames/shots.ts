import { join } from 'node:path';
import { readSamples, SPEECH } from '../clips.ts';
import type { Chance } from './chance.ts';
import { activeLevel, addAt, atPace, biquad, gainOf, level, RATE, scaled } from './sound.ts';

/** A shot's own sound, and the speech clips in it, which no mentor of the same recording may speak. */
export interface ShotSound {
  readonly kind: string;
  readonly samples: Float32Array;
  readonly clips: readonly string[];
}

export const SHOT_KINDS = [
  'lines',
  'dialogue',
  'footsteps',
  'same step',
  'music',
  'effects',
  'mixed',
] as const;
export type ShotKind = (typeof SHOT_KINDS)[number];

const LINES = join(import.meta.dirname, '..', '..', '..', 'samples', 'puppet-audition', 'shot-sound.wav');
const DIALOGUE = [
  ...['mahrt-bobby', 'mahrt-carrots1', 'mahrt-carrots2', 'mahrt-damon', 'mahrt-mary', 'mahrt-oranges'],
  ...['mahrt-pickles', 'mahrt-pumpkins', 'num-goforward', 'riva-nlp', 'synth-knee', 'synth-turn'],
];

/** Makes a shot's sound of one kind, 3 to 14 seconds; most have a quiet air of their own under them. */
export function makeShot(kind: ShotKind, chance: Chance, givenSeconds?: number): ShotSound {
  const seconds = givenSeconds ?? chance.between(3, 14);
  const length = Math.round(seconds * RATE);
  const clips: string[] = [];
  const samples = new Float32Array(length);
  if (kind === 'lines') {
    const lines = readSamples(LINES);
    return { kind, samples: givenSeconds ? lines.subarray(0, length) : lines, clips };
  }
  if (kind === 'dialogue' || kind === 'mixed') addDialogue(samples, chance, clips);
  if (kind === 'footsteps' || kind === 'mixed') addSteps(samples, chance, false);
  if (kind === 'same step') {
    // A step that repeats to the sample, with things between that do not: alone it could not be told which step is heard.
    addSteps(samples, chance, true);
    addEvents(samples, chance);
  }
  if (kind === 'music') addMusic(samples, chance);
  if (kind === 'effects') addEffects(samples, chance);
  const loud = activeLevel(samples);
  const air = biquad(biquad(chance.white(length), 'low', chance.between(400, 3000)), 'high', 60);
  addAt(samples, air, 0, (loud * gainOf(chance.between(-45, -25))) / level(air));
  return { kind, samples: scaled(samples, 0.1 / activeLevel(samples)), clips };
}

function addDialogue(into: Float32Array, chance: Chance, clips: string[]): void {
  for (let at = Math.round(chance.between(0, 0.8) * RATE); at < into.length - RATE / 2; ) {
    const name = chance.one(DIALOGUE);
    clips.push(name);
    const line = readSamples(join(SPEECH, `${name}.wav`));
    const spoken = atPace(line, chance.between(0.9, 1.15));
    addAt(into, spoken, at, 0.1 / activeLevel(spoken));
    at += spoken.length + Math.round(chance.between(0.2, 1.5) * RATE);
  }
}

function oneStep(chance: Chance): Float32Array {
  const thump = biquad(chance.white(RATE * 0.15), 'band', chance.between(80, 250), 2);
  const click = biquad(chance.white(RATE * 0.15), 'band', chance.between(1200, 4000), 0.8);
  return thump.map(
    (low, i) => 2 * low * Math.exp(-i / (0.03 * RATE)) + (click[i] as number) * Math.exp(-i / (0.008 * RATE)),
  );
}

function addSteps(into: Float32Array, chance: Chance, same: boolean): void {
  const frames = chance.whole(9, 14);
  const step = oneStep(chance);
  let at = chance.between(0, 0.4);
  while (at * RATE < into.length) {
    addAt(into, same ? step : oneStep(chance), Math.round(at * RATE), same ? 0.5 : chance.between(0.3, 0.7));
    at += frames / 24 + (same ? 0 : chance.between(-0.03, 0.03));
  }
}

function addMusic(into: Float32Array, chance: Chance): void {
  const beat = 60 / chance.between(80, 140);
  const root = chance.between(100, 200);
  const scale = [0, 2, 4, 5, 7, 9, 11, 12];
  for (let at = 0; at * RATE < into.length; at += beat / 2) {
    const notes = chance.yes(0.5) ? 1 : 3;
    for (let k = 0; k < notes; k++) {
      const hz = root * 2 ** ((chance.one(scale) + 12 * chance.whole(0, 1)) / 12);
      const length = Math.round(beat * RATE * chance.between(0.5, 2));
      const note = new Float32Array(length);
      for (let partial = 1; partial <= 8; partial++) {
        const strength = 0.05 / partial ** chance.between(0.8, 1.6);
        for (let i = 0; i < length; i++) {
          const fade = Math.min(1, i / 200) * Math.exp((-3 * i) / length);
          note[i] = (note[i] as number) + strength * fade * Math.sin((2 * Math.PI * hz * partial * i) / RATE);
        }
      }
      addAt(into, note, Math.round(at * RATE));
    }
    if (!chance.yes(0.6)) continue;
    const hat = biquad(chance.white(RATE * 0.06), 'high', 3000).map(
      (x, i) => x * Math.exp(-i / (0.012 * RATE)),
    );
    addAt(into, hat, Math.round(at * RATE), 0.04);
  }
}

function addEffects(into: Float32Array, chance: Chance): void {
  const hz = chance.between(40, 90);
  for (let i = 0; i < into.length; i++) {
    const t = i / RATE;
    into[i] = 0.02 * Math.sin(2 * Math.PI * hz * t) * (1 + 0.5 * Math.sin(2 * Math.PI * 7 * t));
  }
  addEvents(into, chance);
}

function addEvents(into: Float32Array, chance: Chance): void {
  for (let at = chance.between(0, 1); at * RATE < into.length; at += chance.between(0.4, 1.8)) {
    const length = Math.round(chance.between(0.2, 0.8) * RATE);
    const whoosh = biquad(chance.white(length), 'band', chance.between(300, 3000), 1.2);
    const bell = whoosh.map((x, i) => x * Math.sin((Math.PI * i) / length) ** 2);
    addAt(into, chance.yes(0.5) ? bell : oneStep(chance), Math.round(at * RATE), chance.between(0.2, 0.8));
  }
}
