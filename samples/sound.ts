/** Small sound tools for the sample recordings: Debian's flite and sox as child processes, levels, and seeded noise. */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import wavefile from 'wavefile';

/** Samples a second of everything made here. */
export const RATE = 16000;

/** Numbers between 0 and 1 in an order that depends on the seed alone, so that the same command gives the same sound. */
export type Random = () => number;

/** A source of random numbers (mulberry32). */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** The factor for a number of decibels. */
export const decibels = (db: number): number => 10 ** (db / 20);

/** Reads a 16-bit mono WAV file at RATE as numbers from -1 to 1. */
function readWav(path: string): Float64Array {
  const wav = new wavefile.WaveFile(readFileSync(path));
  return Float64Array.from(wav.getSamples(true), (sample) => sample / 32768);
}

/** Writes numbers from -1 to 1 as a 16-bit mono WAV file at RATE. */
export function writeWav(path: string, sound: Float64Array): void {
  const pcm = Int16Array.from(sound, (sample) =>
    Math.max(-32768, Math.min(32767, Math.round(sample * 32767))),
  );
  const wav = new wavefile.WaveFile();
  wav.fromScratch(1, RATE, '16', pcm);
  writeFileSync(path, wav.toBuffer());
}

/** Cuts the silence off both ends, leaving a twentieth of a second so that no soft consonant is lost. */
function trimmed(sound: Float64Array): Float64Array {
  const loud = (sample: number): boolean => Math.abs(sample) >= 0.01;
  const margin = RATE / 20;
  const start = Math.max(0, sound.findIndex(loud) - margin);
  return sound.slice(start, Math.min(sound.length, sound.findLastIndex(loud) + margin));
}

/** The level of the speech itself: root mean square over those fiftieths of a second in which somebody speaks. */
export function speechLevel(sound: Float64Array): number {
  const step = RATE / 50;
  const powers: number[] = [];
  for (let at = 0; at + step <= sound.length; at += step) {
    powers.push(sound.subarray(at, at + step).reduce((sum, sample) => sum + sample * sample, 0) / step);
  }
  const floor = Math.max(...powers) / 1000;
  const active = powers.filter((power) => power > floor);
  return Math.sqrt(active.reduce((sum, power) => sum + power, 0) / active.length);
}

/** The sound made louder or softer until its speech is at a level in dBFS. */
export function atLevel(sound: Float64Array, dbfs: number): Float64Array {
  const gain = decibels(dbfs) / speechLevel(sound);
  return sound.map((sample) => sample * gain);
}

/** Speaks a text with one of flite's voices; `stretch` above 1 is slower. */
export function spoken(text: string, voice: string, stretch: number, folder: string): Float64Array {
  const path = join(folder, 'spoken.wav');
  const pace = `duration_stretch=${stretch.toFixed(3)}`;
  execFileSync('flite', ['-voice', voice, '--setf', pace, '-t', text, '-o', path]);
  return trimmed(readWav(path));
}

/** What a small loudspeaker in the room makes of a sound: a narrow band and one early reflection; the length stays. */
export function throughLoudspeaker(sound: Float64Array, folder: string): Float64Array {
  const [dry, wet] = [join(folder, 'dry.wav'), join(folder, 'wet.wav')];
  writeWav(dry, sound);
  const band = ['highpass', '220', 'lowpass', '4200'];
  const length = ['trim', '0', `${sound.length}s`];
  execFileSync('sox', ['-D', dry, wet, ...band, 'echo', '0.8', '0.8', '9', '0.25', ...length]);
  return readWav(wet);
}

/** Adds a room's dull hiss, at a level in dBFS, to a sound. */
export function addRoomNoise(sound: Float64Array, dbfs: number, random: Random): void {
  let dull = 0;
  const noise = Float64Array.from(sound, () => {
    const white = random() + random() + random() - 1.5;
    dull += 0.25 * (white - dull);
    return dull;
  });
  const level = Math.sqrt(noise.reduce((sum, sample) => sum + sample * sample, 0) / noise.length);
  noise.forEach((sample, at) => {
    sound[at] = (sound[at] ?? 0) + (sample * decibels(dbfs)) / level;
  });
}
