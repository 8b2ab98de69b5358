import { fftConvolution } from 'ml-convolution';
import type { Chance } from '../frames/chance.ts';
import { makeNoise, makeWay } from '../frames/room.ts';
import { makeShot, SHOT_KINDS } from '../frames/shots.ts';
import { activeLevel, addAt, biquad, gainOf, level, RATE, scaled } from '../frames/sound.ts';

/** What a microphone, a room or a line does to a talk. `babble` is other people's talk, for those that want a crowd. */
export type Spoil = (sound: Float32Array, chance: Chance, babble: () => Float32Array) => Float32Array;

/**
 * The sets of the spoken talks. Levels are against the voice while it speaks. In `two people` and `laughter` it is the
 * talk itself that differs; there the sound only gets a quiet room.
 */
export const CONDITIONS = {
  clean: (sound) => sound,
  room: (sound, chance) => withNoise(inRoom(sound, chance), chance.between(25, 35), chance),
  noise: (sound, chance, babble) =>
    chance.yes(0.5)
      ? withNoise(sound, chance.between(8, 18), chance)
      : mixed(sound, babble(), -chance.between(12, 20)),
  phone: (sound, chance) => overPhone(withNoise(sound, chance.between(20, 30), chance)),
  hum: (sound, chance) => withNoise(withHum(sound, chance), 35, chance),
  clipped: (sound, chance) => clipped(withNoise(sound, 35, chance), chance.between(6, 18)),
  quiet: (sound, chance) => quiet(withNoise(sound, chance.between(20, 28), chance), chance.between(-56, -42)),
  'over the shot': overTheShot,
  'two people': (sound, chance) => withNoise(inRoom(sound, chance), 30, chance),
  laughter: (sound, chance) => withNoise(sound, 32, chance),
} as const satisfies Record<string, Spoil>;
export type Condition = keyof typeof CONDITIONS;

function mixed(sound: Float32Array, other: Float32Array, decibels: number): Float32Array {
  const out = Float32Array.from(sound);
  const gain = (activeLevel(sound) / Math.max(1e-6, level(other))) * gainOf(decibels);
  for (let at = 0; at < out.length; at += other.length) addAt(out, other, at, gain);
  return out;
}

function withNoise(sound: Float32Array, decibelsBelow: number, chance: Chance): Float32Array {
  return mixed(sound, makeNoise(sound.length, chance), -decibelsBelow);
}

/**
 * A person some way from the microphone: the direct sound, early reflections, and noise that dies away by 60 dB in 0.2 to
 * 0.7 s (the shape of a diffuse field after Sabine), as loud as the direct sound or somewhat less.
 */
export function inRoom(sound: Float32Array, chance: Chance): Float32Array {
  const length = Math.round(chance.between(0.2, 0.7) * RATE);
  // The library centres its kernel and does not turn it round: so the tail stands backwards in the first half.
  const kernel = new Float64Array(2 * length + 1);
  kernel[length] = 1;
  for (let k = 0; k < chance.whole(3, 8); k++) {
    const at = length - Math.round(chance.between(0.001, 0.03) * RATE);
    kernel[at] = (kernel[at] ?? 0) + chance.between(-0.5, 0.5);
  }
  const share = gainOf(chance.between(-10, 0)) / Math.sqrt(length / 13.8);
  const tail = chance.white(length);
  for (let i = 16; i < length; i++) {
    kernel[length - i] = (kernel[length - i] ?? 0) + share * (tail[i] ?? 0) * Math.exp((-6.9 * i) / length);
  }
  const heard = Float32Array.from(fftConvolution(sound, kernel));
  return scaled(heard, activeLevel(sound) / activeLevel(heard));
}

/** A telephone: 300 to 3400 Hz, 8,000 samples a second, G.711's mu-law. */
function overPhone(sound: Float32Array): Float32Array {
  const band = twice(sound, (x) => biquad(biquad(x, 'high', 300), 'low', 3300, 0.9));
  const gain = 0.3 / peakOf(band);
  const line = band.map((sample, i) => (i % 2 === 0 ? 2 * muLaw(gain * sample) : 0));
  return twice(line, (x) => biquad(x, 'low', 3600, 0.9));
}

function twice(sound: Float32Array, filter: (sound: Float32Array) => Float32Array): Float32Array {
  return filter(filter(sound));
}

function peakOf(sound: Float32Array): number {
  let peak = 0;
  for (const sample of sound) peak = Math.max(peak, Math.abs(sample));
  return peak;
}

function muLaw(value: number): number {
  const mu = 255;
  const size = Math.log1p(mu * Math.min(1, Math.abs(value))) / Math.log1p(mu);
  const step = Math.round(size * 127) / 127;
  return (Math.sign(value) * Math.expm1(step * Math.log1p(mu))) / mu;
}

/** Mains hum at 50 or 60 Hz with its harmonics, 12 dB below the voice up to as loud. */
function withHum(sound: Float32Array, chance: Chance): Float32Array {
  const hz = chance.one([50, 60]) * chance.between(0.998, 1.002);
  const parts = [1, 2, 3, 4, 5, 7].map((n) => ({
    n,
    size: chance.between(0.1, 1) / n,
    at: chance.between(0, 6.3),
  }));
  const hum = Float32Array.from({ length: sound.length }, (_, i) =>
    parts.reduce((sum, { n, size, at }) => sum + size * Math.sin((2 * Math.PI * hz * n * i) / RATE + at), 0),
  );
  return mixed(sound, hum, chance.between(-12, 0));
}

/** Recorded too loud: so many decibels over full scale, cut off there. */
function clipped(sound: Float32Array, decibelsOver: number): Float32Array {
  const gain = gainOf(decibelsOver) / peakOf(sound);
  return sound.map((sample) => Math.max(-1, Math.min(1, sample * gain)));
}

/** Recorded far too low; 16 bits keep what is left of it. */
function quiet(sound: Float32Array, decibels: number): Float32Array {
  const gain = gainOf(decibels) / activeLevel(sound);
  return sound.map((sample) => Math.round(sample * gain * 32768) / 32768);
}

/** The shot plays again and again under the talk, from a loudspeaker: its lines, steps, music. */
function overTheShot(sound: Float32Array, chance: Chance): Float32Array {
  const shot = makeShot(chance.one(SHOT_KINDS), chance).samples;
  const heard = makeWay(chance).pass(shot);
  const out = Float32Array.from(sound);
  const gain = (activeLevel(sound) / activeLevel(heard)) * gainOf(chance.between(-18, -8));
  for (let at = RATE; at < out.length; at += heard.length + Math.round(chance.between(0.2, 4) * RATE)) {
    addAt(out, heard, at, gain);
  }
  return withNoise(out, 30, chance);
}
