import { spawn } from 'node:child_process';
import type { Readable } from 'node:stream';
import { findOnPath } from '../find-program.ts';
import { SAMPLE_RATE, type Watch } from '../recording.ts';
import { SampleStore } from '../sample-store.ts';
import { SoundCheck } from '../sound-check.ts';
import type { SoundFile } from '../sound-file.ts';
import { statedSeconds } from '../stated-seconds.ts';
import type { Decoded, Decoder, Refusal } from './decoder.ts';
import { cutShort, filterFrom, PROTOCOLS } from './filter.ts';

/** Enough of what the program says to find the length and the fault in it. */
const SAID_CHARACTERS = 20000;

/** Reads everything FFmpeg reads, by an `ffmpeg` program on the PATH. */
export const ffmpegDecoder: Decoder = {
  name: 'ffmpeg',
  async decode(file: SoundFile, watch: Watch): Promise<Decoded | Refusal> {
    const program = await findOnPath('ffmpeg');
    if (!program) return { refused: 'absent', because: 'no ffmpeg on the PATH' };
    return run(program, file, watch);
  },
};

async function run(program: string, file: SoundFile, watch: Watch): Promise<Decoded | Refusal> {
  // No shell, and 'file:' before an absolute path: no name can be taken for an option, a pipe or an address.
  const child = spawn(
    program,
    [
      ...['-nostdin', '-hide_banner', '-nostats', '-protocol_whitelist', `${PROTOCOLS},pipe`],
      ...['-i', `file:${file.path}`, '-map', '0:a:0', '-af', filterFrom(0)],
      ...['-c:a', 'pcm_f32le', '-f', 'f32le', 'pipe:1'],
    ],
    { stdio: ['ignore', 'pipe', 'pipe'], windowsHide: true },
  );
  const ended = new Promise<string>((resolve) => {
    child.once('error', (error) => resolve(`ffmpeg could not be started: ${error.message}`));
    child.once('close', (code) => resolve(`ffmpeg ended with ${code}`));
  });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = said.length < SAID_CHARACTERS ? said + text : said;
  });
  // A program that hangs gives no more pieces to look at the signal between.
  const stop = () => child.kill('SIGKILL');
  watch.signal?.addEventListener('abort', stop);
  let store: SampleStore | undefined;
  const check = new SoundCheck(1);
  try {
    for await (const samples of floatsOf(child.stdout)) {
      watch.signal?.throwIfAborted();
      check.look(samples);
      const stated = statedSeconds(said);
      // By the first samples ffmpeg has said how long they will go on.
      store ??= new SampleStore(Math.ceil((stated + 1) * SAMPLE_RATE));
      store.append(samples);
      if (stated > 0) watch.onProgress?.(Math.min(1, store.length / SAMPLE_RATE / stated));
    }
    const end = await ended;
    watch.signal?.throwIfAborted();
    if (!store?.length) return refusalFor(said, end);
  } finally {
    watch.signal?.removeEventListener('abort', stop);
    stop();
  }
  const short = cutShort(file, store.length, statedSeconds(said));
  const messages = check.messages(file.name);
  return { samples: store.take(), messages: short ? [short, ...messages] : messages };
}

/** Whole little-endian floats from a stream whose pieces may end inside one. */
async function* floatsOf(stream: Readable): AsyncGenerator<Float32Array> {
  let rest: Uint8Array = new Uint8Array(0);
  for await (const piece of stream as AsyncIterable<Uint8Array>) {
    const whole = Math.floor((rest.length + piece.length) / 4);
    const bytes = new Uint8Array(rest.length + piece.length);
    bytes.set(rest);
    bytes.set(piece, rest.length);
    const view = new DataView(bytes.buffer);
    yield Float32Array.from({ length: whole }, (_, i) => view.getFloat32(4 * i, true));
    rest = bytes.subarray(4 * whole);
  }
}

function refusalFor(said: string, end: string): Refusal {
  if (/matches no streams/.test(said)) return { refused: 'silent', because: 'no sound in it' };
  if (/Decoder .*not found|Unknown decoder|no decoder found/i.test(said)) {
    return { refused: 'foreign', because: 'a codec this ffmpeg does not know' };
  }
  const last = said.trim().split('\n').at(-1)?.split(': ').at(-1);
  return { refused: 'damaged', because: last || end };
}
