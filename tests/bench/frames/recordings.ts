import { join } from 'node:path';
import { readSamples, SPEECH } from '../clips.ts';
import { Chance } from './chance.ts';
import { makeNoise, makeWay } from './room.ts';
import { makeShot, SHOT_KINDS, type ShotSound } from './shots.ts';
import { activeLevel, addAt, atPace, biquad, gainOf, RATE } from './sound.ts';
import { stretchedByPhases, stretchedByPieces } from './stretch.ts';

export type Manner = 'normal' | 'half, lower' | 'half, same pitch';

/** A pass as it was made: recording seconds, shot frames. */
export interface TruePass {
  readonly start: number;
  readonly end: number;
  readonly first: number;
  readonly last: number;
  readonly manner: Manner;
}

export interface MadeRecording {
  readonly seed: number;
  readonly samples: Float32Array;
  readonly shot: ShotSound;
  readonly fps: number;
  readonly firstFrame: number;
  readonly passes: readonly TruePass[];
  /** What it was made with, for the table of misses. */
  readonly says: string;
}

const MENTORS = [
  ['librivox-0870', 'librivox-0880', 'librivox-0890', 'librivox-0920', 'librivox-0930'],
  ['mfa-acoustic', 'lj-0004', 'num-vosk'],
  ['synth-bucket', 'synth-lift', 'synth-tail', 'synth-toes', 'librivox-0870'],
];
const LEAST_PLAY_SECONDS = 0.75;

/** One person's talk, for so long: clips in any order, at another pace and pitch, with pauses. */
export function talk(
  samples: number,
  clips: readonly string[],
  chance: Chance,
  pauseSeconds = 2,
): Float32Array {
  const into = new Float32Array(samples);
  const pace = chance.between(0.88, 1.15);
  const spoken = clips.map((name) => {
    const clip = atPace(readSamples(join(SPEECH, `${name}.wav`)), pace * chance.between(0.98, 1.02));
    return { clip, gain: 0.1 / activeLevel(clip) };
  });
  for (let at = Math.round(chance.between(0, 1) * RATE); at < samples; ) {
    const { clip, gain } = chance.one(spoken);
    const from = Math.round(chance.between(0, 0.5) * clip.length);
    const piece = clip.subarray(from, from + Math.round(chance.between(0.3, 1) * clip.length));
    addAt(into, piece, at, gain * gainOf(chance.between(-3, 3)));
    at += piece.length + Math.round(chance.between(0.1, pauseSeconds) * RATE);
  }
  return into;
}

/** Plays of the shot one after the other with pauses: whole, in part, from where it stopped, looped. */
function plan(shotSeconds: number, seconds: number, chance: Chance) {
  const plays: { at: number; from: number; to: number; manner: Manner }[] = [];
  let at = chance.between(0.5, 5);
  let stood = 0;
  while (at < seconds - 4) {
    const manner: Manner = chance.yes(0.75) ? 'normal' : chance.yes(0.5) ? 'half, lower' : 'half, same pitch';
    const slow = manner === 'normal' ? 1 : 2;
    const from = chance.yes(0.35)
      ? 0
      : chance.yes(0.5) && stood < shotSeconds - 1
        ? stood
        : chance.between(0, shotSeconds - 0.8);
    const to = chance.yes(0.3)
      ? shotSeconds
      : Math.min(shotSeconds, from + chance.between(LEAST_PLAY_SECONDS, 6));
    if (to - from >= LEAST_PLAY_SECONDS) {
      const loops = chance.yes(0.15) ? chance.whole(1, 3) : 0;
      for (let k = 0; k <= loops && at < seconds - 2; k++) {
        const stop = k === loops ? to : shotSeconds;
        const start = k === 0 ? from : 0;
        if (stop - start < LEAST_PLAY_SECONDS) continue;
        const end = Math.min(seconds - 0.5, at + slow * (stop - start));
        plays.push({ at, from: start, to: start + (end - at) / slow, manner });
        at = end;
      }
      stood = to;
    }
    at += chance.yes(0.3) ? chance.between(0.3, 1) : chance.between(1, 12);
  }
  return plays.filter(({ from, to }) => to - from >= LEAST_PLAY_SECONDS);
}

/** Makes a recording of which everything is known; the same seed gives the same one. */
export function makeRecording(seed: number, seconds = 90): MadeRecording {
  const chance = new Chance(seed);
  const shot = makeShot(chance.one(SHOT_KINDS), chance);
  const fps = chance.one([24, 24, 24, 25, 30, 23.976]);
  const firstFrame = chance.one([0, 1, 101, 1001]);
  const shotSeconds = shot.samples.length / RATE;
  const plays = plan(shotSeconds, seconds, chance);
  const lower = atPace(shot.samples, 0.5);
  const samePitch = chance.yes(0.7)
    ? stretchedByPieces(shot.samples, chance.between(0.03, 0.08))
    : stretchedByPhases(shot.samples);
  const way = makeWay(chance);
  const clockPpm = chance.between(-60, 60);
  const samples = new Float32Array(Math.round(seconds * RATE));
  for (const { at, from, to, manner } of plays) {
    const slow = manner === 'normal' ? 1 : 2;
    const source = manner === 'normal' ? shot.samples : manner === 'half, lower' ? lower : samePitch;
    const played = source.subarray(Math.round(from * slow * RATE), Math.round(to * slow * RATE));
    const heard = way.pass(atPace(played, 1 + clockPpm / 1e6));
    addAt(samples, heard, Math.round(at * RATE));
  }
  const heardLevel = activeLevel(way.pass(shot.samples));
  const snr = chance.one([5, 5, 10, 20, 35]);
  const over = chance.between(-10, 9);
  const mentor = chance.one(MENTORS).filter((name) => !shot.clips.includes(name));
  const voice = talk(samples.length, mentor, chance);
  addAt(samples, voice, 0, (heardLevel * gainOf(over)) / 0.1);
  addAt(samples, makeNoise(samples.length, chance), 0, heardLevel * gainOf(-snr));
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const full = chance.between(0.05, 0.9) / peak;
  const says = `${shot.kind} ${shotSeconds.toFixed(1)} s, ${way.name}, noise ${snr} dB, voice ${over.toFixed(0)} dB`;
  return {
    seed,
    samples: samples.map((x) => x * full),
    shot,
    fps,
    firstFrame,
    says,
    passes: plays.map(({ at, from, to, manner }) => ({
      start: at,
      end: at + (manner === 'normal' ? 1 : 2) * (to - from),
      first: firstFrame + from * fps,
      last: firstFrame + to * fps,
      manner,
    })),
  };
}

/** Talk in which the shot is never heard. */
export function makeTalk(seed: number, seconds: number, avoid: readonly string[]): Float32Array {
  const chance = new Chance(seed);
  const samples = new Float32Array(Math.round(seconds * RATE));
  const part = 60 * RATE;
  for (let at = 0; at < samples.length; at += part) {
    const names = chance.one(MENTORS).filter((name) => !avoid.includes(name));
    const piece = talk(Math.min(part, samples.length - at), names, chance, 1);
    addAt(samples, biquad(piece, 'low', chance.between(3000, 7500)), at, chance.between(0.3, 1));
  }
  addAt(samples, makeNoise(samples.length, chance), 0, 0.1 * gainOf(-30));
  return samples;
}
