import type { ListenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { transcribe } from '../../../src/transcript/transcribe.ts';
import { recordingOf } from '../clips.ts';
import { Chance } from '../frames/chance.ts';
import { makeNoise } from '../frames/room.ts';
import { makeShot } from '../frames/shots.ts';
import { addAt, biquad, gainOf, level, RATE } from '../frames/sound.ts';
import { makeLaugh } from '../spoken/laughter.ts';

const PART_SECONDS = 60;

type Make = (samples: number, chance: Chance) => Float32Array;

/** Sounds in which nobody says a word. */
const SOUNDS: Readonly<Record<string, Make>> = {
  silence: (samples) => new Float32Array(samples),
  'quiet room': (samples, chance) => loud(makeNoise(samples, chance), chance.between(-75, -50)),
  noise: (samples, chance) => loud(makeNoise(samples, chance), chance.between(-45, -12)),
  'white noise': (samples, chance) => loud(chance.white(samples), chance.between(-50, -15)),
  rumble: (samples, chance) => loud(biquad(chance.white(samples), 'low', 120), chance.between(-40, -15)),
  hum: (samples, chance) => loud(hum(samples, chance), chance.between(-45, -10)),
  music: (samples, chance) =>
    loud(makeShot('music', chance, samples / RATE).samples, chance.between(-35, -12)),
  steps: (samples, chance) =>
    loud(makeShot('footsteps', chance, samples / RATE).samples, chance.between(-40, -20)),
  effects: (samples, chance) =>
    loud(makeShot('effects', chance, samples / RATE).samples, chance.between(-40, -18)),
  keys: (samples, chance) => keys(samples, chance),
  breath: (samples, chance) => breaths(samples, chance),
  laughter: (samples, chance) => laughs(samples, chance),
};

/** Prints how many words are heard in so many minutes of each sound in turn. */
export async function printInvented(model: string, minutes: number, listenFor: ListenFor): Promise<void> {
  console.log(`\n${model}: words invented\nsound | minutes | words | what`);
  const names = Object.keys(SOUNDS);
  const rounds = Math.max(1, Math.round(minutes / names.length));
  let all = 0;
  for (const [at, [name, make]] of Object.entries(SOUNDS).entries()) {
    const samples = new Float32Array(rounds * PART_SECONDS * RATE);
    for (let round = 0; round < rounds; round++) {
      addAt(samples, make(PART_SECONDS * RATE, new Chance(1000 * at + round)), round * PART_SECONDS * RATE);
    }
    const { transcript } = await transcribe(recordingOf(`${name}.wav`, samples), {
      model,
      listenFor,
    });
    all += transcript.words.length;
    const what = transcript.words.map((word) => word.text).join(' ');
    console.log([name, rounds, transcript.words.length, what].join(' | '));
  }
  console.log(`all | ${rounds * names.length} | ${all}`);
}

function loud(sound: Float32Array, decibels: number): Float32Array {
  const gain = gainOf(decibels) / Math.max(1e-9, level(sound));
  return sound.map((sample) => sample * gain);
}

function hum(samples: number, chance: Chance): Float32Array {
  const hz = chance.one([50, 60]);
  const sizes = [1, 2, 3, 4, 5, 6, 7, 9, 11].map((n) => chance.between(0.05, 1) / n);
  return Float32Array.from({ length: samples }, (_, i) =>
    sizes.reduce((sum, size, n) => sum + size * Math.sin((2 * Math.PI * hz * (n + 1) * i) / RATE), 0),
  );
}

/** Somebody steps through frames: clicks of keys, each a short burst with its echo in the case. */
function keys(samples: number, chance: Chance): Float32Array {
  const out = loud(makeNoise(samples, chance), -60);
  for (let at = 0.3; at * RATE < samples; at += chance.between(0.08, 1.2)) {
    const length = Math.round(0.05 * RATE);
    const click = biquad(chance.white(length), 'band', chance.between(900, 5000), 1.5).map(
      (x, i) => x * Math.exp(-i / (0.006 * RATE)),
    );
    addAt(out, click, Math.round(at * RATE), chance.between(0.05, 0.5));
  }
  return out;
}

function breaths(samples: number, chance: Chance): Float32Array {
  const out = loud(makeNoise(samples, chance), -62);
  for (let at = 1; at * RATE < samples; at += chance.between(1.5, 5)) {
    const length = Math.round(chance.between(0.3, 0.9) * RATE);
    const breath = biquad(chance.white(length), 'band', chance.between(700, 2500), 0.7).map(
      (x, i) => x * Math.sin((Math.PI * i) / length),
    );
    addAt(out, breath, Math.round(at * RATE), chance.between(0.01, 0.08));
  }
  return out;
}

function laughs(samples: number, chance: Chance): Float32Array {
  const out = loud(makeNoise(samples, chance), -60);
  for (let at = 1; at * RATE < samples; at += chance.between(3, 9)) {
    addAt(out, makeLaugh(chance), Math.round(at * RATE), chance.between(0.3, 1.2));
  }
  return out;
}
