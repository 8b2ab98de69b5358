import { setImmediate } from 'node:timers/promises';
import type { Demuxer, Frame, Packet } from 'node-av';
import { messageOf } from '../../basics/problem.ts';
import { clockStartSeconds } from '../clock-start.ts';
import { PROTOCOLS } from '../decoders/filter.ts';
import type { SoundFile } from '../sound-file.ts';
import type {
  Grey,
  PictureReader,
  PictureRefusal,
  PictureRequest,
  PictureTrack,
  Plane,
  TimedPicture,
} from './picture.ts';
import { BYTES_A_PIXEL, leastOfColours, PIXEL_FORMATS } from './planes.ts';

type NodeAv = typeof import('node-av');

/** After so many pictures the event loop gets its turn, for the abort signal and the progress display. */
const PICTURES_A_TURN = 24;

/** Reads the pictures of everything FFmpeg reads, by the optional package node-av; its synchronous calls alone. */
export const nodeAvPictures: PictureReader = {
  name: 'node-av',
  async open(file: SoundFile): Promise<PictureTrack | PictureRefusal> {
    let av: NodeAv;
    try {
      av = await import('node-av');
    } catch (error) {
      return { refused: 'absent', because: messageOf(error) };
    }
    av.Log.setLevel(av.AV_LOG_QUIET);
    try {
      return withInput(av, file, (input): PictureTrack | PictureRefusal => {
        const stream = input.video();
        // A cover of an album is a picture track too, of one picture.
        if (!stream || stream.attachedPic) return { refused: 'blind', because: 'no pictures in it' };
        const { width, height } = stream.codecpar;
        if (!(width > 0 && height > 0)) return { refused: 'damaged', because: 'its pictures have no size' };
        return {
          width,
          height,
          durationSeconds: Math.max(0, input.duration),
          pictures: (request) => readPictures(av, file, request),
        };
      });
    } catch (error) {
      return { refused: 'damaged', because: messageOf(error) };
    }
  },
};

function openInput(av: NodeAv, file: SoundFile): Demuxer {
  return av.Demuxer.openSync(file.path, { options: { protocol_whitelist: PROTOCOLS } });
}

function withInput<T>(av: NodeAv, file: SoundFile, use: (input: Demuxer) => T): T {
  const input = openInput(av, file);
  try {
    return use(input);
  } finally {
    input.closeSync();
  }
}

async function* readPictures(
  av: NodeAv,
  file: SoundFile,
  { crop, plane = 'brightness', keyOnly, watch }: PictureRequest,
): AsyncGenerator<TimedPicture> {
  const input = openInput(av, file);
  const stream = input.video();
  if (!stream) return;
  const decoder = av.Decoder.createSync(stream, { exitOnError: false });
  const cut = crop ? `crop=${crop.width}:${crop.height}:${crop.x}:${crop.y}:exact=1,` : '';
  const filter = av.FilterAPI.create(`${cut}format=${PIXEL_FORMATS[plane]}`);
  const clockStart = clockStartSeconds(input);
  const statedSeconds = input.duration;
  try {
    let turn = 0;
    const packets = input.packetsSync(stream.index);
    for (const frame of filter.framesSync(decoder.framesSync(keyOnly ? keysOf(packets) : packets))) {
      if (!frame) continue;
      const startSeconds = secondsOf(frame) - clockStart;
      const grey = greyOf(frame, plane);
      frame.free();
      if (grey && Number.isFinite(startSeconds)) yield { startSeconds, grey };
      if (++turn % PICTURES_A_TURN > 0) continue;
      await setImmediate();
      watch?.signal?.throwIfAborted();
      if (statedSeconds > 0) watch?.onProgress?.(Math.max(0, Math.min(1, startSeconds / statedSeconds)));
    }
  } finally {
    filter.close();
    decoder.close();
    input.closeSync();
  }
}

function* keysOf(packets: Iterable<Packet | null>): Generator<Packet | null> {
  for (const packet of packets) {
    if (!packet || packet.isKeyframe) yield packet;
    else packet.free();
  }
}

/** Not a number where the file gives the picture no time. */
function secondsOf(frame: Frame): number {
  const { num, den } = frame.timeBase;
  const ticks = Number(frame.pts);
  return den > 0 && ticks > -(2 ** 62) ? (ticks * num) / den : Number.NaN;
}

/** A copy: the frame's own memory has longer rows, and is gone once the frame is freed. */
function greyOf(frame: Frame, plane: Plane): Grey | null {
  const { width, height } = frame;
  const data = frame.data?.[0];
  const bytes = BYTES_A_PIXEL[plane];
  const stride = frame.linesize[0] ?? bytes * width;
  if (!data || !width || !height) return null;
  const rows = new Uint8Array(bytes * width * height);
  for (let row = 0; row < height; row++) {
    rows.set(data.subarray(row * stride, row * stride + bytes * width), row * bytes * width);
  }
  return { width, height, pixels: plane === 'whiteness' ? leastOfColours(rows) : rows };
}
