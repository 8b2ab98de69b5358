import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import wavefile from 'wavefile';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import { clips } from '../bench/clips.ts';

/** Longer than any pause within a region. */
const PAUSE_SECONDS = 3.5;

/**
 * Real and synthetic speech, one clip after another, so far apart that each is a region of its own, or more.
 *
 * @param seconds Over and over until it is so long; each clip once where it is left out.
 */
export function writeTalk(
  folder: string,
  names: RegExp,
  seconds = 0,
): { readonly path: string; readonly clips: number; readonly seconds: number } {
  const pause = new Int16Array(PAUSE_SECONDS * SAMPLE_RATE);
  const spoken = clips(names).map(({ recording }) => recording.samples.map((sample) => sample * 32767));
  const pieces: ArrayLike<number>[] = [];
  let length = 0;
  for (let clip = 0; clip < spoken.length || length < seconds * SAMPLE_RATE; clip++) {
    const sound = spoken[clip % spoken.length];
    if (!sound) throw new Error(`no clip is called ${names}`);
    pieces.push(sound, pause);
    length += sound.length + pause.length;
  }
  const samples = new Int16Array(length);
  let at = 0;
  for (const piece of pieces) {
    samples.set(piece, at);
    at += piece.length;
  }
  const file = new wavefile.WaveFile();
  file.fromScratch(1, SAMPLE_RATE, '16', samples);
  const path = join(folder, 'talk.wav');
  writeFileSync(path, file.toBuffer());
  return { path, clips: spoken.length, seconds: length / SAMPLE_RATE };
}
