import { setImmediate } from 'node:timers/promises';
import { messageOf, PersonError } from '../../basics/problem.ts';
import { PROTOCOLS } from '../../recording/decoders/filter.ts';

/** One picture: rows of red, green and blue bytes. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly rgb: Uint8Array;
}

const FRAMES_A_TURN = 20;

/**
 * Takes single pictures out of a video, counted from its first one; calls back for each, in order. Needs the optional
 * package node-av.
 *
 * @param wanted Counts from 0.
 * @throws PersonError where the video cannot be read, with what to give instead.
 */
export async function picturesOfVideo(
  path: string,
  wanted: ReadonlySet<number>,
  widthPixels: number,
  take: (count: number, picture: Picture) => Promise<void>,
  signal?: AbortSignal,
): Promise<void> {
  const av = await import('node-av').catch(() => {
    throw new PersonError(
      'Pictures from a video need the package node-av, which is not installed here: give a folder of frames with --shot-picture.',
    );
  });
  av.Log.setLevel(av.AV_LOG_QUIET);
  const unreadable = (why: string): PersonError =>
    new PersonError(`${path} cannot be read as a video (${why}): give another, or a folder of frames.`);
  const last = Math.max(...wanted);
  try {
    const input = av.Demuxer.openSync(path, { options: { protocol_whitelist: PROTOCOLS } });
    try {
      const stream = input.video();
      if (!stream) throw unreadable('there is no picture in it');
      const decoder = av.Decoder.createSync(stream, { exitOnError: false });
      const filter = av.FilterAPI.create(`scale=${widthPixels}:-2,format=rgb24`);
      try {
        let count = 0;
        for (const frame of filter.framesSync(decoder.framesSync(input.packetsSync(stream.index)))) {
          if (!frame) continue;
          if (wanted.has(count)) {
            const picture = copyOf(frame);
            if (picture) await take(count, picture);
          }
          frame.free();
          if (++count > last) break;
          if (count % FRAMES_A_TURN === 0) await setImmediate();
          signal?.throwIfAborted();
        }
        if (count === 0) throw unreadable('no picture could be decoded');
      } finally {
        filter.close();
        decoder.close();
      }
    } finally {
      input.closeSync();
    }
  } catch (error) {
    signal?.throwIfAborted();
    throw error instanceof PersonError ? error : unreadable(messageOf(error));
  }
}

/** A copy without the padding that stands at the end of each row. */
function copyOf(frame: {
  readonly width: number;
  readonly height: number;
  readonly linesize: readonly number[];
  readonly data: readonly Uint8Array[] | null;
}): Picture | null {
  const { width, height } = frame;
  const plane = frame.data?.[0];
  const rowBytes = frame.linesize[0] ?? 0;
  if (!plane || rowBytes < 3 * width) return null;
  const rgb = new Uint8Array(3 * width * height);
  for (let row = 0; row < height; row++) {
    rgb.set(plane.subarray(row * rowBytes, row * rowBytes + 3 * width), row * 3 * width);
  }
  return { width, height, rgb };
}
