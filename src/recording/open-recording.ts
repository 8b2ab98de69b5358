import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { z } from 'zod';
import type { Kept, KeptKind } from '../basics/kept.ts';
import { PersonError } from '../basics/problem.ts';
import { decodeSound } from './decoders/table.ts';
import { hasMovieIndex } from './mp4-index.ts';
import { type Recording, SAMPLE_RATE, type Watch } from './recording.ts';
import { turnDown } from './sound-check.ts';
import { findSoundFile, type SoundFile } from './sound-file.ts';

/** The checksum's part of the whole time. */
const HASH_SHARE = 0.1;
const HASH_PIECE_BYTES = 1 << 20;

/** Raise it when a file may come out with other samples, another length or other problems than before. */
export const RECORDING_VERSION = 1;

const factsSchema = z.object({
  /** Length in seconds of what could be read. */
  duration: z.number().nonnegative(),
  problems: z.array(z.object({ stage: z.string(), message: z.string() })).readonly(),
});
/** What is known of a recording once it has been decoded, its samples left out. */
export type RecordingFacts = z.infer<typeof factsSchema>;

const KEPT_FACTS: KeptKind<RecordingFacts> = {
  name: 'recording',
  version: RECORDING_VERSION,
  schema: factsSchema,
};

/** A recording that was looked at and has its checksum; its sound is decoded when somebody wants it, and once. */
export interface OpenRecording extends Pick<Recording, 'file' | 'sha256'> {
  /** Length and problems; from an earlier reading where they were kept. */
  facts(): Promise<RecordingFacts>;
  /** @throws as readRecording does */
  read(): Promise<Recording>;
}

export interface OpenOptions extends Watch {
  /** Where the facts are kept between runs, if anywhere. */
  readonly kept?: Kept | undefined;
}

/**
 * Looks at a recording and takes its checksum.
 * @param options `onProgress` is told how far it is, 0 to 1, which is reached when the sound has been decoded
 * @throws PersonError where it can be no recording; the signal's reason when it is stopped
 */
export async function openRecording(path: string, options: OpenOptions = {}): Promise<OpenRecording> {
  const { signal, onProgress, kept } = options;
  signal?.throwIfAborted();
  const file = await findSoundFile(path);
  if (file.kind === 'mp4' && !(await hasMovieIndex(file.path))) {
    throw new PersonError(
      `${file.name} was never finished: its index (moov) is missing, so its sound cannot be found. Export or copy it again.`,
    );
  }
  const before = await stateOf(file);
  const sha256 = await checksumOf(file, {
    signal,
    onProgress: (fraction) => onProgress?.(HASH_SHARE * fraction),
  });
  // Problems name the file, so a copy under another name has facts of its own.
  const of = { sha256, file: file.name };
  let reading: Promise<Recording> | undefined;

  async function decode(): Promise<Recording> {
    const { samples, messages } = await decodeSound(file, {
      signal,
      onProgress: (fraction) => onProgress?.(HASH_SHARE + (1 - HASH_SHARE) * fraction),
    });
    // Otherwise the words of one recording would be kept under another's checksum.
    if ((await stateOf(file)) !== before) {
      throw new PersonError(
        `${file.name} changed while it was read: wait until it is whole, and read it again.`,
      );
    }
    const loud = turnDown(samples, file.name);
    const facts: RecordingFacts = {
      duration: samples.length / SAMPLE_RATE,
      problems: [...messages, ...(loud ? [loud] : [])].map((message) => ({ stage: 'recording', message })),
    };
    await kept?.put(KEPT_FACTS, of, facts);
    onProgress?.(1);
    return { file: file.name, sha256, samples, ...facts };
  }

  const read = () => {
    reading ??= decode();
    return reading;
  };
  return {
    file: file.name,
    sha256,
    read,
    facts: async () => (reading ? undefined : await kept?.get(KEPT_FACTS, of)) ?? (await read()),
  };
}

/** Changes with the file, as far as a look at its folder tells. */
async function stateOf({ path }: SoundFile): Promise<string> {
  const { ino, size, mtimeMs } = await stat(path);
  return `${ino} ${size} ${mtimeMs}`;
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
