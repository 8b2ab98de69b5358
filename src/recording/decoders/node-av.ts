import { setImmediate } from 'node:timers/promises';
import type { Demuxer } from 'node-av';
import { messageOf } from '../../basics/problem.ts';
import { clockStartSeconds } from '../clock-start.ts';
import type { Watch } from '../recording.ts';
import { SAMPLE_RATE } from '../recording.ts';
import { SampleStore } from '../sample-store.ts';
import { SoundCheck } from '../sound-check.ts';
import type { SoundFile } from '../sound-file.ts';
import type { Decoded, Decoder, Refusal } from './decoder.ts';
import { cutShort, filterFrom, PROTOCOLS } from './filter.ts';

type NodeAv = typeof import('node-av');

/** Frames of one second; after so many the event loop gets its turn, for the abort signal and the progress display. */
const FRAMES_A_TURN = 20;

/**
 * Reads everything FFmpeg reads, by the optional package node-av. Only its synchronous calls are used: on Node 20 the
 * asynchronous ones end without a single frame and without an error.
 */
export const nodeAvDecoder: Decoder = {
  name: 'node-av',
  async decode(file: SoundFile, watch: Watch): Promise<Decoded | Refusal> {
    let av: NodeAv;
    try {
      av = await import('node-av');
    } catch (error) {
      return { refused: 'absent', because: messageOf(error) };
    }
    av.Log.setLevel(av.AV_LOG_QUIET);
    let input: Demuxer;
    try {
      input = av.Demuxer.openSync(file.path, { options: { protocol_whitelist: PROTOCOLS } });
    } catch (error) {
      return { refused: 'damaged', because: messageOf(error) };
    }
    try {
      return await decodeOpened(av, input, file, watch);
    } finally {
      input.closeSync();
    }
  },
};

async function decodeOpened(
  av: NodeAv,
  input: Demuxer,
  file: SoundFile,
  watch: Watch,
): Promise<Decoded | Refusal> {
  const stream = input.audio();
  if (!stream) return { refused: 'silent', because: 'no sound in it' };
  let decoder: ReturnType<NodeAv['Decoder']['createSync']>;
  try {
    decoder = av.Decoder.createSync(stream, { exitOnError: false });
  } catch (error) {
    return { refused: 'foreign', because: messageOf(error) };
  }
  const filter = av.FilterAPI.create(
    `${filterFrom(clockStartSeconds(input))},asetnsamples=n=${SAMPLE_RATE}:p=0`,
  );
  const statedSeconds = input.duration;
  const store = new SampleStore(Math.ceil((statedSeconds + 1) * SAMPLE_RATE));
  const check = new SoundCheck(1);
  let fault = 'it holds no sound that can be read';
  try {
    let turn = 0;
    for (const frame of filter.framesSync(decoder.framesSync(input.packetsSync(stream.index)))) {
      if (!frame) continue;
      const samples = copyOf(frame.data?.[0], frame.nbSamples);
      frame.free();
      check.look(samples);
      store.append(samples);
      if (++turn % FRAMES_A_TURN > 0) continue;
      await setImmediate();
      watch.signal?.throwIfAborted();
      if (statedSeconds > 0) watch.onProgress?.(Math.min(1, store.length / SAMPLE_RATE / statedSeconds));
    }
  } catch (error) {
    watch.signal?.throwIfAborted();
    fault = messageOf(error);
  } finally {
    filter.close();
    decoder.close();
  }
  if (store.length === 0) return { refused: 'damaged', because: fault };
  const short = cutShort(file, store.length, statedSeconds);
  const messages = check.messages(file.name);
  return { samples: store.take(), messages: short ? [short, ...messages] : messages };
}

/** A copy of a frame's samples: its own memory is padded, and gone once the frame is freed. */
function copyOf(plane: Uint8Array | undefined, samples: number): Float32Array {
  const copy = new Float32Array(plane ? samples : 0);
  if (plane) new Uint8Array(copy.buffer).set(plane.subarray(0, copy.byteLength));
  return copy;
}
