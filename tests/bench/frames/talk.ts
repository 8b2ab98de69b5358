import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording } from '../../../src/recording/read-recording.ts';
import { readSamples, SPEECH } from '../clips.ts';
import { Chance } from './chance.ts';
import { makeNoise } from './room.ts';
import { activeLevel, addAt, atPace, biquad, gainOf, RATE } from './sound.ts';

/** Clips of tests/fixtures/speech, by who may speak in one recording. */
export const MENTORS = [
  ['librivox-0870', 'librivox-0880', 'librivox-0890', 'librivox-0920', 'librivox-0930'],
  ['mfa-acoustic', 'lj-0004', 'num-vosk'],
  ['synth-bucket', 'synth-lift', 'synth-tail', 'synth-toes', 'librivox-0870'],
];

/** One person's talk, for so long: parts of clips in any order, at another pace and pitch, with pauses. Of level 0.1 while speaking. */
export function makeVoice(
  samples: number,
  clips: readonly string[],
  chance: Chance,
  pauseSeconds: number,
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

/** A recording of talk alone: another voice, pace and colour each minute, and a room's noise 30 dB below. */
export function makeTalk(seed: number, seconds: number, avoid: readonly string[]): Float32Array {
  const chance = new Chance(seed);
  const samples = new Float32Array(Math.round(seconds * RATE));
  const part = 60 * RATE;
  for (let at = 0; at < samples.length; at += part) {
    const names = chance.one(MENTORS).filter((name) => !avoid.includes(name));
    const piece = makeVoice(Math.min(part, samples.length - at), names, chance, 1);
    addAt(samples, biquad(piece, 'low', chance.between(3000, 7500)), at, chance.between(0.3, 1));
  }
  addAt(samples, makeNoise(samples.length, chance), 0, 0.1 * gainOf(-30));
  return samples;
}

const SOUNDS = /\.(flac|wav|mp3|m4a|ogg|opus)$/i;

/** So much talk of the recordings in a folder, in any order, each time at a pace of its own. */
export async function talkOf(folder: string, seed: number, seconds: number): Promise<Float32Array> {
  const chance = new Chance(seed);
  const names = readdirSync(folder).filter((name) => SOUNDS.test(name));
  const into = new Float32Array(Math.round(seconds * RATE));
  for (let at = 0; at < into.length; ) {
    const { samples } = await readRecording(join(folder, chance.one(names)));
    const piece = atPace(samples, chance.between(0.93, 1.07));
    addAt(into, piece, at);
    at += piece.length;
  }
  return into;
}
