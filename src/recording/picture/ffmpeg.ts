import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { PROTOCOLS } from '../decoders/filter.ts';
import { findOnPath } from '../find-program.ts';
import type { SoundFile } from '../sound-file.ts';
import { statedSeconds } from '../stated-seconds.ts';
import type { PictureReader, PictureRefusal, PictureRequest, PictureTrack, TimedPicture } from './picture.ts';
import { BYTES_A_PIXEL, leastOfColours, PIXEL_FORMATS } from './planes.ts';

/** Reads the pictures of everything FFmpeg reads, by an `ffmpeg` program on the PATH. */
export const ffmpegPictures: PictureReader = {
  name: 'ffmpeg',
  async open(file: SoundFile): Promise<PictureTrack | PictureRefusal> {
    const program = await findOnPath('ffmpeg');
    if (!program) return { refused: 'absent', because: 'no ffmpeg on the PATH' };
    const said = await sayingOf(program, [...SAFE, '-i', `file:${file.path}`]);
    const [, width, height] =
      /Stream #.*: Video: (?!.*attached pic).*?[ ,](\d{2,5})x(\d{2,5})[ ,\n]/.exec(said) ?? [];
    if (!width || !height) {
      if (/Stream #.*: Audio:/.test(said)) return { refused: 'blind', because: 'no pictures in it' };
      return {
        refused: 'damaged',
        because: said.trim().split('\n').at(-1)?.split(': ').at(-1) ?? 'nothing was said',
      };
    }
    // The option that no picture is dropped or doubled was renamed in version 5.1.
    const steady = /\bffmpeg version n?(?:[1-4]\.|5\.0)/.test(said)
      ? ['-vsync', 'passthrough']
      : ['-fps_mode', 'passthrough'];
    const size = { width: Number(width), height: Number(height) };
    return {
      ...size,
      durationSeconds: statedSeconds(said),
      pictures: (request) => readPictures(program, steady, file, size, request),
    };
  },
};

const SAFE = ['-nostdin', '-nostats', '-protocol_whitelist', `${PROTOCOLS},pipe`];
/** Every picture leaves a line with its time on standard error. */
const TIME_OF_PICTURE = /Parsed_showinfo.* pts_time:\s*(-?[\d.]+)/;

async function* readPictures(
  program: string,
  steady: readonly string[],
  file: SoundFile,
  size: { readonly width: number; readonly height: number },
  { crop, plane = 'brightness', keyOnly, watch }: PictureRequest,
): AsyncGenerator<TimedPicture> {
  const cut = crop ? `crop=${crop.width}:${crop.height}:${crop.x}:${crop.y}:exact=1,` : '';
  const { width, height } = crop ?? size;
  const child = spawn(
    program,
    [
      // The picture is not turned upright: the size that was announced is that of the file.
      ...[
        ...SAFE,
        '-hide_banner',
        '-noautorotate',
        ...(keyOnly ? ['-skip_frame', 'nokey'] : []),
        '-i',
        `file:${file.path}`,
      ],
      ...['-map', '0:v:0', '-vf', `${cut}format=${PIXEL_FORMATS[plane]},showinfo=checksum=0`, ...steady],
      ...['-f', 'rawvideo', 'pipe:1'],
    ],
    { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true },
  );
  const failed = new Promise<void>((resolve) => child.once('error', () => resolve()));
  const stop = () => child.kill('SIGKILL');
  watch?.signal?.addEventListener('abort', stop);
  const times: number[] = [];
  const lines = createInterface({ input: child.stderr });
  lines.on('line', (line) => {
    const [, seconds] = TIME_OF_PICTURE.exec(line) ?? [];
    if (seconds !== undefined) times.push(Number(seconds));
  });
  let silent = false;
  const allTimes = Promise.race([once(lines, 'close'), failed]).then(() => {
    silent = true;
  });
  try {
    for await (const bytes of piecesOf(child.stdout, width * height * BYTES_A_PIXEL[plane])) {
      watch?.signal?.throwIfAborted();
      // The time is written before the picture, but into another pipe.
      while (times.length === 0 && !silent) await Promise.race([once(lines, 'line'), allTimes]);
      const startSeconds = times.shift();
      if (startSeconds === undefined) break;
      yield {
        startSeconds,
        grey: { width, height, pixels: plane === 'whiteness' ? leastOfColours(bytes) : bytes },
      };
    }
    watch?.signal?.throwIfAborted();
  } finally {
    watch?.signal?.removeEventListener('abort', stop);
    stop();
  }
}

/** A stream cut into pieces of one length; a rest that is shorter is left out. */
async function* piecesOf(stream: AsyncIterable<Uint8Array>, length: number): AsyncGenerator<Uint8Array> {
  let piece = new Uint8Array(length);
  let filled = 0;
  for await (const bytes of stream) {
    for (let from = 0; from < bytes.length; ) {
      const part = bytes.subarray(from, from + length - filled);
      piece.set(part, filled);
      filled += part.length;
      from += part.length;
      if (filled < length) continue;
      yield piece;
      piece = new Uint8Array(length);
      filled = 0;
    }
  }
}

/** What the program says on standard error. */
async function sayingOf(program: string, args: readonly string[]): Promise<string> {
  const child = spawn(program, args, { stdio: ['ignore', 'ignore', 'pipe'], windowsHide: true });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said += text;
  });
  return new Promise((resolve) => {
    child.once('error', (error) => resolve(error.message));
    child.once('close', () => resolve(said));
  });
}
