import { existsSync } from 'node:fs';
import type { Picture } from './picture.ts';

export interface FilmOptions {
  readonly width: number;
  readonly height: number;
  /** x264's constant quality: 18 fine, 23 usual, 33 coarse. */
  readonly crf?: number;
  /** Most pictures from one that stands alone to the next. */
  readonly group?: number;
  /** A tone beside the pictures, and when it begins. */
  readonly tone?: { readonly startSeconds: number; readonly seconds: number };
  /** Any other sound, 16 kHz mono, in place of the tone. */
  readonly sound?: FilmSound;
}

export interface FilmSound {
  readonly startSeconds: number;
  readonly samples: Float32Array;
}

/** A picture and when it is shown, in seconds of the file. */
export interface Timed {
  readonly seconds: number;
  readonly picture: Picture;
}

/** Why films cannot be made here, or null where they can. */
export async function reasonForNoFilm(): Promise<string | null> {
  try {
    await import('node-av');
    return null;
  } catch (error) {
    return `node-av, an optional package, is needed to make videos and is not here: ${error}`;
  }
}

/** About what x264 calls veryfast. */
const QUICK = 'ref=1:subme=2:me=hex:trellis=0:rc-lookahead=10:mixed-refs=0';
const CLOCK = 1000;
const SOUND_RATE = 16000;
const SOUND_PIECE = 1024;

/** Makes a video of pictures, each at its own time, by H.264 into the container that the path's ending names. */
export async function makeFilm(
  path: string,
  pictures: Iterable<Timed> | AsyncIterable<Timed>,
  options: FilmOptions,
): Promise<void> {
  const av = await import('node-av');
  av.Log.setLevel(av.AV_LOG_QUIET);
  const encoder = av.Encoder.createSync(av.FF_ENCODER_LIBX264, {
    gopSize: options.group ?? 250,
    threadCount: 1,
    // Named options handed to the synchronous encoder end in a double free (node-av 6.1.1): set them on the context.
    configure(context) {
      context.setOption('crf', String(options.crf ?? 23), av.AV_OPT_TYPE_STRING, av.AV_OPT_SEARCH_CHILDREN);
      context.setOption('x264-params', QUICK, av.AV_OPT_TYPE_STRING, av.AV_OPT_SEARCH_CHILDREN);
    },
  });
  const heard = options.sound ?? (options.tone && toneOf(options.tone));
  const sound = heard ? av.Encoder.createSync(av.FF_ENCODER_AAC, { bitrate: '64k' }) : null;
  const output = av.Muxer.openSync(path);
  const videoStream = output.addStream(encoder);
  const soundStream = sound ? output.addStream(sound) : -1;
  if (sound && heard) {
    // The encoder counts from 0 whatever its frames say, so its packets are moved.
    const late = BigInt(Math.round(heard.startSeconds * SOUND_RATE));
    const write = (packets: ReturnType<typeof sound.encodeAllSync>) => {
      for (const packet of packets) {
        packet.pts += late;
        packet.dts += late;
        output.writePacketSync(packet, soundStream);
      }
    };
    for (let at = 0; at < heard.samples.length; at += SOUND_PIECE) {
      const samples = new Float32Array(SOUND_PIECE);
      samples.set(heard.samples.subarray(at, at + SOUND_PIECE));
      const frame = av.Frame.fromAudioBuffer(Buffer.from(samples.buffer), {
        nbSamples: SOUND_PIECE,
        format: av.AV_SAMPLE_FMT_FLTP,
        sampleRate: SOUND_RATE,
        channelLayout: { nbChannels: 1, order: av.AV_CHANNEL_ORDER_NATIVE, mask: 4n },
        timeBase: { num: 1, den: SOUND_RATE },
        pts: BigInt(at),
      });
      write(sound.encodeAllSync(frame));
      frame.free();
    }
    write(sound.encodeAllSync(null));
  }
  for await (const { seconds, picture } of pictures) {
    const frame = av.Frame.fromVideoBuffer(Buffer.from(picture.bytes), {
      width: options.width,
      height: options.height,
      format: av.AV_PIX_FMT_YUV420P,
      timeBase: { num: 1, den: CLOCK },
      pts: BigInt(Math.round(seconds * CLOCK)),
    });
    for (const packet of encoder.encodeAllSync(frame)) output.writePacketSync(packet, videoStream);
    frame.free();
  }
  for (const packet of encoder.encodeAllSync(null)) output.writePacketSync(packet, videoStream);
  output.closeSync();
  encoder.close();
  sound?.close();
  if (!existsSync(path)) throw new Error(`no video was made at ${path}`);
}

function toneOf({ startSeconds, seconds }: { startSeconds: number; seconds: number }): FilmSound {
  const samples = Float32Array.from(
    { length: Math.ceil((seconds * SOUND_RATE) / SOUND_PIECE) * SOUND_PIECE },
    (_, i) => 0.3 * Math.sin((2 * Math.PI * 440 * i) / SOUND_RATE),
  );
  return { startSeconds, samples };
}
