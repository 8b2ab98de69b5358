import { chmodSync, copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Decoder } from '../../src/recording/decoders/decoder.ts';
import { ffmpegDecoder } from '../../src/recording/decoders/ffmpeg.ts';
import { nodeAvDecoder } from '../../src/recording/decoders/node-av.ts';
import { DECODERS, decodeSound } from '../../src/recording/decoders/table.ts';
import { wavDecoder } from '../../src/recording/decoders/wav.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { findSoundFile } from '../../src/recording/sound-file.ts';
import { amplitudeAt, fixture, levelDb, ownFolder } from './sounds.ts';

const { folder, write } = ownFolder();
afterEach(() => vi.unstubAllEnvs());

const TONES = ['mp3', 'm4a', 'aac', 'flac', 'ogg', 'opus', 'webm', 'mp4', 'mov', 'mkv'].map(
  (end) => `tone.${end}`,
);

/** Whether a decoder is on this machine; the tests that need it are skipped with its own reason. */
async function reasonToSkip(decoder: Decoder): Promise<string | null> {
  const outcome = await decoder.decode(await findSoundFile(fixture('tone.flac')), {});
  return 'refused' in outcome ? `${decoder.name} cannot be used here: ${outcome.because}` : null;
}

describe.each([nodeAvDecoder, ffmpegDecoder])('with $name', async (decoder) => {
  const reason = await reasonToSkip(decoder);
  if (reason) console.warn(reason);
  const decoders = [wavDecoder, decoder];

  test.skipIf(reason).each(TONES)('%s is its tone, on time', async (name) => {
    const { samples, messages } = await decodeSound(await findSoundFile(fixture(name)), {}, decoders);
    expect(samples.length / 16000).toBeGreaterThan(1.49);
    expect(samples.length / 16000).toBeLessThan(1.6);
    // The fixtures' tone has an amplitude of 1/4; the lossy ones may miss it by a little.
    expect(amplitudeAt(440, 16000, samples.subarray(4000, 20000))).toBeCloseTo(0.25, 1);
    expect(messages).toEqual([]);
  });

  test.skipIf(reason)('sound that begins later than the pictures keeps its place', async () => {
    const { samples } = await decodeSound(await findSoundFile(fixture('late.mkv')), {}, decoders);
    expect(levelDb(samples, 0, 7200)).toBeLessThan(-60);
    expect(levelDb(samples, 8800, 20000)).toBeGreaterThan(-20);
  });

  test.skipIf(reason)('a WAV with a codec of its own is read too', async () => {
    const { samples } = await decodeSound(await findSoundFile(fixture('adpcm.wav')), {}, decoders);
    expect(amplitudeAt(440, 16000, samples.subarray(4000, 20000))).toBeCloseTo(0.25, 1);
  });

  test.skipIf(reason)('a video without sound says so', async () => {
    const silent = await findSoundFile(fixture('silent-film.mp4'));
    await expect(decodeSound(silent, {}, decoders)).rejects.toThrow(
      'silent-film.mp4 has no sound in it: give the recording that holds the voice.',
    );
  });

  test.skipIf(reason)('half a recording is read as far as it goes, and says so', async () => {
    const flac = readFileSync(fixture('tone.flac'));
    // Long enough for a second and more to be missing: the same frames, promised twice over (STREAMINFO, RFC 9639 section 8.2).
    flac.writeUInt32BE(4 * 66150, 22);
    const file = await findSoundFile(write(`half-${decoder.name}.flac`, flac.subarray(0, 15000)));
    const { samples, messages } = await decodeSound(file, {}, decoders);
    expect(samples.length / 16000).toBeGreaterThan(0.5);
    expect(messages.join()).toMatch(/says it lasts 6\.0 s, but its sound ends at \d\.\d s/);
  });

  test.skipIf(reason)('bytes that only look like a recording are called damaged', async () => {
    const bytes = Uint8Array.from({ length: 5000 }, (_, i) => (i * i * 31) % 251);
    bytes.set([0x66, 0x4c, 0x61, 0x43]);
    const file = await findSoundFile(write('looks.flac', bytes));
    await expect(decodeSound(file, {}, decoders)).rejects.toThrow(
      /looks\.flac cannot be read \(.+\): it is damaged/,
    );
  });
});

test('the kind is told by content, not by name', async () => {
  for (const name of TONES) {
    const path = join(folder, `${name}.wav`);
    copyFileSync(fixture(name), path);
    expect((await findSoundFile(path)).kind).not.toMatch(/wav|unknown|text/);
  }
  expect((await findSoundFile(fixture('speech.wav'))).kind).toBe('wav');
});

test('a WAV is read without any other decoder, whatever its name ends with', async () => {
  const path = join(folder, 'take.mp3');
  copyFileSync(fixture('speech.wav'), path);
  const { samples } = await decodeSound(await findSoundFile(path), {}, [wavDecoder]);
  expect(samples.length / 16000).toBeCloseTo(7.1, 1);
});

describe('where a decoder is missing', () => {
  const noNodeAv: Decoder = {
    name: 'node-av',
    decode: async () => ({ refused: 'absent', because: 'not installed' }),
  };
  const without = [wavDecoder, noNodeAv, ffmpegDecoder];

  test('an ffmpeg on the PATH takes over, and gets the name as one argument', async () => {
    // A stand-in that writes two samples, and what it was called with.
    const bin = write(
      'ffmpeg',
      '#!/bin/sh\nprintf "%s\\n" "$@" > "$0.args"\nprintf "\\0\\0\\0\\077\\0\\0\\0\\077"\n',
    );
    chmodSync(bin, 0o755);
    vi.stubEnv('PATH', `relative:${folder}`);
    const odd = join(folder, '-i $(touch x); "take" 3.mp3');
    copyFileSync(fixture('tone.mp3'), odd);
    const { samples } = await decodeSound(await findSoundFile(odd), {}, without);
    expect([...samples]).toEqual([0.5, 0.5]);
    expect(readFileSync(`${bin}.args`, 'utf8').split('\n')).toContain(`file:${odd}`);
  });

  test('an ffmpeg that breaks off is told from one that is not there', async () => {
    writeFileSync(
      join(folder, 'ffmpeg'),
      '#!/bin/sh\necho "tone.mp3: Something is wrong inside" >&2\nexit 1\n',
      { mode: 0o755 },
    );
    vi.stubEnv('PATH', folder);
    const file = await findSoundFile(fixture('tone.mp3'));
    await expect(decodeSound(file, {}, without)).rejects.toThrow('Something is wrong inside');
  });

  test('an ffmpeg that is no program is not a crash', async () => {
    writeFileSync(join(folder, 'ffmpeg'), '\x7fELF broken', { mode: 0o755 });
    vi.stubEnv('PATH', folder);
    const file = await findSoundFile(fixture('tone.mp3'));
    await expect(decodeSound(file, {}, without)).rejects.toThrow(/tone\.mp3 cannot be read/);
  });

  test('without both there is one sentence that says what to do', async () => {
    vi.stubEnv('PATH', '');
    const file = await findSoundFile(fixture('tone.m4a'));
    await expect(decodeSound(file, {}, without)).rejects.toThrow(
      'tone.m4a is not a WAV, and nothing that reads it is installed here: ' +
        'save it as WAV (16-bit PCM), or install ffmpeg, or node-av with "npm install node-av".',
    );
    const adpcm = await findSoundFile(fixture('adpcm.wav'));
    await expect(decodeSound(adpcm, {}, without)).rejects.toThrow('adpcm.wav holds IMA ADPCM, and nothing');
  });

  test('a package node-av that does not load counts as missing', async () => {
    vi.resetModules();
    vi.doMock('node-av', () => {
      throw new Error('no binary for this machine');
    });
    const { nodeAvDecoder: again } = await import('../../src/recording/decoders/node-av.ts');
    const outcome = await again.decode(await findSoundFile(fixture('tone.flac')), {});
    expect(outcome).toMatchObject({ refused: 'absent' });
    vi.doUnmock('node-av');
  });
});

test('the decoders are tried from the one that needs least', () => {
  expect(DECODERS.map(({ name }) => name)).toEqual(['WAV', 'node-av', 'ffmpeg']);
});

test('an unfinished m4a is named as such, whatever is installed', async () => {
  await expect(readRecording(fixture('unfinished.m4a'))).rejects.toThrow(
    'unfinished.m4a was never finished: its index (moov) is missing',
  );
});
