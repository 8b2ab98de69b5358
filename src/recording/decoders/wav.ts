import { type FileHandle, open } from 'node:fs/promises';
import { PersonError } from '../../basics/problem.ts';
import { Mixer } from '../mix.ts';
import type { Watch } from '../recording.ts';
import { Resampler, resampledLength } from '../resample.ts';
import { SampleStore } from '../sample-store.ts';
import { SoundCheck } from '../sound-check.ts';
import type { SoundFile } from '../sound-file.ts';
import { findWavChunks, type WavChunks } from '../wav-chunks.ts';
import { readWavFormat, type WavFormat } from '../wav-format.ts';
import { sampleReaderFor } from '../wav-samples.ts';
import type { Decoded, Decoder, Refusal } from './decoder.ts';

/** Small enough that a slice stays in the processor's cache from one step to the next. */
const SLICE_BYTES = 1 << 17;

/** Reads WAV with nothing but this program: from disk slice by slice, so that length costs no memory but the samples. */
export const wavDecoder: Decoder = {
  name: 'WAV',
  async decode(file: SoundFile, watch: Watch): Promise<Decoded | Refusal> {
    if (file.kind !== 'wav') return { refused: 'foreign', because: 'not a WAV' };
    const handle = await open(file.path, 'r');
    try {
      const chunks = await findWavChunks(handle, file);
      const format = readWavFormat(chunks.format, chunks.bigEndian, file.name);
      if ('foreign' in format) return { refused: 'foreign', because: format.foreign };
      return await readSamples(handle, file, chunks, format, watch);
    } finally {
      await handle.close();
    }
  },
};

async function readSamples(
  handle: FileHandle,
  file: SoundFile,
  chunks: WavChunks,
  format: WavFormat,
  watch: Watch,
): Promise<Decoded> {
  const frameBytes = format.channels * format.bytesPerSample;
  const frames = Math.floor(chunks.dataBytes / frameBytes);
  if (frames === 0) {
    throw new PersonError(
      `${file.name} holds no sound: it has a WAV header and no samples. Record it again.`,
    );
  }
  const sliceFrames = Math.floor(SLICE_BYTES / frameBytes);
  const slice = new Uint8Array(sliceFrames * frameBytes);
  const interleaved = new Float32Array(sliceFrames * format.channels);
  const mono = new Float32Array(sliceFrames);
  const read = sampleReaderFor(format);
  const mixer = new Mixer(format.channels, format.lfeChannel);
  const check = new SoundCheck(format.channels);
  const resampler = new Resampler(format.rate);
  const store = new SampleStore(resampledLength(frames, format.rate));
  let done = 0;
  while (done < frames) {
    watch.signal?.throwIfAborted();
    const wanted = Math.min(sliceFrames, frames - done) * frameBytes;
    const got = Math.floor(
      (await fillSlice(handle, slice, wanted, chunks.dataStart + done * frameBytes)) / frameBytes,
    );
    if (got === 0) break;
    const values = interleaved.subarray(0, got * format.channels);
    read(new DataView(slice.buffer, 0, got * frameBytes), values);
    check.look(values);
    const mixed = mono.subarray(0, got);
    mixer.mix(values, mixed);
    store.append(resampler.push(mixed));
    done += got;
    watch.onProgress?.(done / frames);
  }
  store.append(resampler.finish());
  const messages = [...mixer.messages(file.name), ...check.messages(file.name)];
  const short = cutShort(file.name, chunks, done * frameBytes, format.rate * frameBytes);
  return { samples: store.take(), messages: short ? [short, ...messages] : messages };
}

/** Reads `wanted` bytes; a disk on the network may give fewer at a time. Gives how many there were. */
async function fillSlice(
  handle: FileHandle,
  slice: Uint8Array,
  wanted: number,
  position: number,
): Promise<number> {
  let filled = 0;
  while (filled < wanted) {
    const { bytesRead } = await handle.read(slice, filled, wanted - filled, position + filled);
    if (bytesRead === 0) break;
    filled += bytesRead;
  }
  return filled;
}

function cutShort(name: string, chunks: WavChunks, bytesRead: number, bytesPerSecond: number): string | null {
  const promised = chunks.promisedBytes ?? 0;
  // Less than a frame missing is a writer's rounding, not a loss.
  if (promised - bytesRead < 0.01 * bytesPerSecond) return null;
  const seconds = (bytes: number) => (bytes / bytesPerSecond).toFixed(1);
  return (
    `${name} is cut short: its header promises ${seconds(promised)} s of sound and ${seconds(bytesRead)} s are there; ` +
    'those were read.'
  );
}
