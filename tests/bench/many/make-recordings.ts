import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { decibels, RATE, seededRandom, writeWav } from '../../../samples/sound.ts';
import { readRecording } from '../../../src/recording/read-recording.ts';

const SPEECH = join(import.meta.dirname, '..', '..', 'fixtures', 'speech');
const FERRY = join(import.meta.dirname, '..', '..', '..', 'samples', 'ferry-rope', 'recording.wav');

/** Between two pieces of speech, as a mentor who looks at the shot is silent. */
const PAUSE_SECONDS = { least: 0.4, most: 3 };

/**
 * Makes recordings of real and synthetic speech, no two alike: pieces in another order, at another level, with other pauses.
 * They depend on their number alone.
 *
 * @returns Their paths.
 */
export async function makeRecordings(folder: string, count: number, minutes: number): Promise<string[]> {
  const files = readdirSync(SPEECH).filter((name) => name.endsWith('.wav'));
  const paths = [FERRY, ...files.map((name) => join(SPEECH, name))];
  const pieces: Float32Array[] = [];
  for (const path of paths) pieces.push(...cut((await readRecording(path)).samples));
  return Array.from({ length: count }, (_, number) => {
    const path = join(folder, `take${String(number + 1).padStart(2, '0')}.wav`);
    writeWav(path, join16(pieces, Math.round(minutes * 60 * RATE), number + 1));
    return path;
  });
}

/** Pieces of a quarter of a minute at most, so that long recordings do not make all the others alike. */
function cut(samples: Float32Array): Float32Array[] {
  const most = 15 * RATE;
  return Array.from({ length: Math.ceil(samples.length / most) }, (_, i) =>
    samples.subarray(i * most, (i + 1) * most),
  );
}

function join16(pieces: readonly Float32Array[], length: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  const sound = Float64Array.from({ length }, () => (random() - 0.5) * 2e-4);
  const { least, most } = PAUSE_SECONDS;
  for (let at = 0; at < length; ) {
    const piece = pieces[Math.floor(random() * pieces.length)] ?? new Float32Array();
    const gain = decibels(-8 * random());
    const fits = piece.subarray(0, length - at);
    for (let i = 0; i < fits.length; i++) sound[at + i] = (sound[at + i] ?? 0) + gain * (fits[i] ?? 0);
    at += piece.length + Math.round((least + (most - least) * random()) * RATE);
  }
  return sound;
}
