import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { PersonError } from '../basics/problem.ts';
import { decodeSound } from './decoders/table.ts';
import { hasMovieIndex } from './mp4-index.ts';
import { type Recording, SAMPLE_RATE, type Watch } from './recording.ts';
import { turnDown } from './sound-check.ts';
import { findSoundFile, type SoundFile } from './sound-file.ts';

/** The checksum's part of the whole time. */
const HASH_SHARE = 0.1;
const HASH_PIECE_BYTES = 1 << 20;

/**
 * Reads the sound of a recording: WAV, mp3, m4a, flac, ogg, webm, or the sound of a video.
 * @param path the file, absolute or from the working folder
 * @param options `signal` stops the work; `onProgress` is told how far it is, 0 to 1
 * @returns 16 kHz mono samples and what was noticed: a file cut short, clipping, broken samples
 * @throws PersonError where there is no sound to be had, with one sentence that says why and what to do;
 *   the signal's reason when it is stopped
 */
export async function readRecording(path: string, options: Watch = {}): Promise<Recording> {
  const { signal, onProgress } = options;
  signal?.throwIfAborted();
  const file = await findSoundFile(path);
  if (file.kind === 'mp4' && !(await hasMovieIndex(file.path))) {
    throw new PersonError(
      `${file.name} was never finished: its index (moov) is missing, so its sound cannot be found. Export or copy it again.`,
    );
  }
  const sha256 = await checksumOf(file, {
    signal,
    onProgress: (fraction) => onProgress?.(HASH_SHARE * fraction),
  });
  const { samples, messages } = await decodeSound(file, {
    signal,
    onProgress: (fraction) => onProgress?.(HASH_SHARE + (1 - HASH_SHARE) * fraction),
  });
  const loud = turnDown(samples, file.name);
  onProgress?.(1);
  return {
    file: file.name,
    sha256,
    duration: samples.length / SAMPLE_RATE,
    samples,
    problems: [...messages, ...(loud ? [loud] : [])].map((message) => ({ stage: 'recording', message })),
  };
}

/** SHA-256 in hex, read piece by piece. */
async function checksumOf(file: SoundFile, watch: Watch): Promise<string> {
  const hash = createHash('sha256');
  let done = 0;
  for await (const piece of createReadStream(file.path, { highWaterMark: HASH_PIECE_BYTES })) {
    watch.signal?.throwIfAborted();
    hash.update(piece as Uint8Array);
    done += (piece as Uint8Array).length;
    watch.onProgress?.(Math.min(1, done / file.bytes));
  }
  return hash.digest('hex');
}
