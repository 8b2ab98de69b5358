import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { fixture, noise, tone } from '../recording/sounds.ts';
import { critsheet, inFolder, type Ran } from './run-command.ts';

/** A short reading by a synthesiser. */
const SPEECH = fileURLToPath(new URL('../fixtures/speech/synth-lift.wav', import.meta.url));

/** Reads with the quick model, which makes its folder where `inOwnCache` put the cache. */
function read(path: string, ...more: string[]): Promise<Ran> {
  return critsheet(['read', path, '--model', 'moonshine-tiny', '--json', ...more]);
}

/** A 16 kHz mono WAV file of 16 bits. */
function wav(samples: Float32Array): Buffer {
  const bytes = Buffer.alloc(44 + samples.length * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + samples.length * 2, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(16000, 24);
  bytes.writeUInt32LE(32000, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((sample, i) => {
    bytes.writeInt16LE(Math.round(sample * 32767), 44 + 2 * i);
  });
  return bytes;
}

describe('a file that is no recording exits 1 with one line', () => {
  it.each<[string, (folder: string) => Promise<string>, RegExp]>([
    ['no such file', async (folder) => join(folder, 'nowhere.wav'), /There is no file .*nowhere\.wav/],
    ['no such folder', async (folder) => join(folder, 'no', 'a.wav'), /There is no file .*a\.wav/],
    ['no such captions', async (folder) => join(folder, 'nowhere.vtt'), /There is no file .*nowhere\.vtt/],
    [
      'no such transcript',
      async (folder) => join(folder, 'nowhere.json'),
      /There is no file .*nowhere\.json/,
    ],
    ['a folder', async (folder) => folder, /There is no recording in .*: give a folder that holds/],
    ['an empty file', (folder) => put(folder, 'empty.wav', ''), /empty\.wav is empty/],
    [
      'a text file called .wav',
      (folder) => put(folder, 'text.wav', 'Not sound at all.\n'.repeat(40)),
      /text\.wav holds text/,
    ],
    ['a video with no sound', async () => fixture('silent-film.mp4'), /silent-film\.mp4 .*no sound/],
    [
      'JSON that is no transcript',
      (folder) => put(folder, 'a.json', '{"schema": "x"}'),
      /a\.json is not a saved transcript/,
    ],
    ['an unknown model', async () => '', /There is no model called "humming"/],
  ])('%s', (what, make, said) =>
    inFolder(async (folder) => {
      const path = await make(folder);
      const ran = await (what === 'an unknown model'
        ? critsheet(['read', SPEECH, '--model', 'humming', '--json'])
        : read(path));
      expect(ran.err).toMatch(said);
      expect(ran.err).toMatch(/^critsheet: .*[.]\n$/);
      expect({ code: ran.code, out: ran.out }).toEqual({ code: 1, out: '' });
    }),
  );
});

async function put(folder: string, name: string, bytes: string | Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return path;
}

describe('a recording with nothing to hear, or not all of it', () => {
  const before = process.env.CRITSHEET_CACHE;
  let finish: () => void = () => undefined;
  let cache = '';
  beforeAll(
    () =>
      new Promise<void>((ready) => {
        void inFolder((folder) => {
          cache = folder;
          process.env.CRITSHEET_CACHE = folder;
          ready();
          return new Promise<void>((done) => {
            finish = done;
          });
        });
      }),
  );
  afterAll(() => {
    finish();
    if (before === undefined) delete process.env.CRITSHEET_CACHE;
    else process.env.CRITSHEET_CACHE = before;
  });

  it.each([
    ['silence', new Float32Array(16000 * 4)],
    ['noise', noise(16000 * 4, 0.2)],
    ['a tone', tone(440, 16000, 16000 * 4, 0.5)],
  ])('%s gives a sheet without notes that says so', (_, samples) =>
    inFolder(async (folder) => {
      const path = await put(folder, 'quiet.wav', wav(samples));
      const { code, out } = await critsheet(['read', path, '--model', 'moonshine-tiny']);
      expect(code).toBe(0);
      expect(out).toContain('No speech was heard in this recording, so this sheet has no notes.');
      const sheet = sheetSchema.parse(JSON.parse(await readFile(join(folder, 'quiet.sheet.json'), 'utf8')));
      expect(sheet).toMatchObject({
        words: [],
        statements: [],
        notes: [],
        recording: { file: 'quiet.wav', duration: 4 },
      });
      expect(await readFile(join(folder, 'quiet.sheet.md'), 'utf8')).toContain('No speech was heard');
    }),
  );

  it('a WAV cut in the middle of its data is read as far as it goes, and that is said', () =>
    inFolder(async (folder) => {
      const whole = await readFile(SPEECH);
      const path = await put(folder, 'cut.wav', whole.subarray(0, whole.length >> 1));
      const { code, out, err } = await read(path);
      expect({ code }).toEqual({ code: 0 });
      expect(err).toMatch(/^critsheet: cut\.wav .*\n$/);
      expect(sheetSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(3);
    }));

  it('a damaged model in the cache is made again', async () => {
    const damaged = join(cache, 'models', '2', 'moonshine-tiny', 'onnx', 'encoder_model_quantized.onnx');
    await writeFile(damaged, 'broken');
    const { code, out } = await read(SPEECH);
    expect(code).toBe(0);
    expect(sheetSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(3);
  });

  it('a cache that cannot be written is told of', () =>
    inFolder(async (folder) => {
      process.env.CRITSHEET_CACHE = await put(folder, 'file', 'in the way');
      const { code, err } = await read(SPEECH);
      process.env.CRITSHEET_CACHE = cache;
      expect(code).toBe(1);
      expect(err).toMatch(/^critsheet: The speech model could not be written to .* CRITSHEET_CACHE .*\n$/);
    }));
});
