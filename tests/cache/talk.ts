import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import wavefile from 'wavefile';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import { clips } from '../bench/clips.ts';

/** Longer than any pause within a region. */
const PAUSE_SECONDS = 3.5;

/** Real and synthetic speech, one clip after another, so far apart that each is a region of its own, or more. */
export function writeTalk(folder: string, names: RegExp): { readonly path: string; readonly clips: number } {
  const pause = new Float32Array(PAUSE_SECONDS * SAMPLE_RATE);
  const spoken = clips(names).map(({ recording }) => recording.samples);
  const samples = spoken.flatMap((one) => [...one, ...pause]);
  const file = new wavefile.WaveFile();
  file.fromScratch(
    1,
    SAMPLE_RATE,
    '16',
    samples.map((sample) => Math.round(sample * 32767)),
  );
  const path = join(folder, 'talk.wav');
  writeFileSync(path, file.toBuffer());
  return { path, clips: spoken.length };
}
