import { describe, expect, test } from 'vitest';
import wavefile from 'wavefile';
import { readRecording } from '../../src/recording/read-recording.ts';
import { amplitudeAt, levelDb, ownFolder, tone } from './sounds.ts';
import { ds64, float32, fmt, int16, wav } from './wav-bytes.ts';

const { write } = ownFolder();
const RATE = 16000;
const sound = tone(440, RATE, RATE, 0.5);

/** How far the recording is from the tone that was written, in decibels. */
function errorDb(samples: Float32Array): number {
  return levelDb(samples.map((sample, i) => sample - (sound[i] ?? 0)));
}

describe('every way to write samples gives the same sound', () => {
  // The scale is what a 1.0 is written as; the error is the steps' own, 6 dB a bit (8 bits: -50 dB, 16: -98 dB).
  test.each([
    { depth: '8', scale: 127, offset: 128, worst: -45 },
    { depth: '16', scale: 32767, offset: 0, worst: -80 },
    { depth: '24', scale: 8388607, offset: 0, worst: -120 },
    { depth: '32', scale: 2147483647, offset: 0, worst: -120 },
    { depth: '32f', scale: 1, offset: 0, worst: -140 },
    { depth: '64', scale: 1, offset: 0, worst: -140 },
  ])('$depth bits', async ({ depth, scale, offset, worst }) => {
    for (const container of ['RIFF', 'RIFX']) {
      const file = new wavefile.WaveFile();
      const written = Float64Array.from(sound, (s) =>
        depth.includes('f') || depth === '64' ? s : Math.round(s * scale + offset),
      );
      file.fromScratch(1, RATE, depth, written, { container });
      const { samples, problems, duration } = await readRecording(
        write(`${container}${depth}.wav`, file.toBuffer()),
      );
      expect(duration).toBe(1);
      expect(errorDb(samples)).toBeLessThan(worst);
      expect(problems).toEqual([]);
    }
  });

  test.each(['8a', '8m'])('telephone sound, %s', async (depth) => {
    const file = new wavefile.WaveFile();
    file.fromScratch(
      1,
      RATE,
      '16',
      Float64Array.from(sound, (s) => Math.round(s * 32767)),
    );
    if (depth === '8a') file.toALaw();
    else file.toMuLaw();
    const { samples } = await readRecording(write(`${depth}.wav`, file.toBuffer()));
    // G.711 keeps about 37 dB between voice and its own noise.
    expect(errorDb(samples)).toBeLessThan(-6 - 33);
  });

  // The SubFormat GUID decides, not the tag 0xFFFE (Microsoft, WAVEFORMATEXTENSIBLE).
  test('extensible integers and floats are told apart', async () => {
    const integers = wav([fmt(1, 1, RATE, 16, 4), { id: 'data', body: int16(sound) }]);
    const floats = wav([fmt(3, 1, RATE, 32, 4), { id: 'data', body: float32(sound) }]);
    expect(errorDb((await readRecording(write('ext16.wav', integers))).samples)).toBeLessThan(-80);
    expect(errorDb((await readRecording(write('ext32f.wav', floats))).samples)).toBeLessThan(-140);
  });
});

describe('channels', () => {
  async function mixed(mask: number | undefined, ...channels: Float32Array[]): Promise<Float32Array> {
    const frames = Float32Array.from(
      { length: RATE * channels.length },
      (_, i) => channels[i % channels.length]?.[Math.floor(i / channels.length)] ?? 0,
    );
    const file = wav([fmt(3, channels.length, RATE, 32, mask), { id: 'data', body: float32(frames) }]);
    return (await readRecording(write('mixed.wav', file))).samples;
  }
  const hum = tone(60, RATE, RATE, 0.5);
  const quiet = new Float32Array(RATE);

  test('a voice on both sides keeps its level, a voice on one side is half as strong', async () => {
    expect(errorDb(await mixed(undefined, sound, sound))).toBeLessThan(-120);
    expect(amplitudeAt(440, RATE, await mixed(undefined, sound, quiet))).toBeCloseTo(0.25, 4);
  });

  test('the same voice upside down on the other side is not lost', async () => {
    const frames = Float32Array.from({ length: 2 * RATE }, (_, i) => (i % 2 ? -1 : 1) * (sound[i >> 1] ?? 0));
    const file = wav([fmt(3, 2, RATE, 32), { id: 'data', body: float32(frames) }]);
    const { samples, problems } = await readRecording(write('balanced.wav', file));
    expect(errorDb(samples)).toBeLessThan(-120);
    expect(problems.map(({ message }) => message).join()).toContain(
      'sides of balanced.wav cancel each other',
    );
  });

  test('the bass channel of 5.1 is left out, with a speaker mask and without', async () => {
    for (const mask of [0x3f, 0x60f, undefined]) {
      const samples = await mixed(mask, sound, sound, sound, hum, sound, sound);
      expect(amplitudeAt(60, RATE, samples)).toBeLessThan(1e-4);
      expect(amplitudeAt(440, RATE, samples)).toBeCloseTo(0.5, 4);
    }
  });

  test('six channels that are no speakers are all heard', async () => {
    expect(amplitudeAt(60, RATE, await mixed(0, quiet, quiet, quiet, hum, quiet, quiet))).toBeCloseTo(
      0.5 / 6,
      4,
    );
  });
});

describe('headers', () => {
  const data = { id: 'data', body: int16(sound) };
  const format = fmt(1, 1, RATE, 16);
  const odd = { id: 'bext', body: new Uint8Array(333).fill(65) };
  const id3 = Uint8Array.from([0x49, 0x44, 0x33, 4, 0, 0, 0, 0, 1, 2, ...new Uint8Array(130).fill(7)]);

  test.each([
    ['chunks of odd length in front', wav([odd, format, odd, data])],
    ['an odd chunk without its filling byte', wav([{ ...odd, unpadded: true }, format, data])],
    ['more chunks behind', wav([format, data, { id: 'LIST', body: new Uint8Array(50) }])],
    ['a wrong size of the whole', wav([format, data], 'RIFF', 12)],
    ['sizes a streaming writer left at 0', wav([format, { ...data, size: 0 }], 'RIFF', 0)],
    [
      'sizes a streaming writer set to the largest',
      wav([format, { ...data, size: 0xffffffff }], 'RIFF', 0xffffffff),
    ],
    ['the size that goes into a pipe', wav([format, { ...data, size: 0x7ffff000 }], 'RIFF', 0x7ffff024)],
    // EBU Tech 3306 (RF64) and ITU-R BS.2088 (BW64)
    ['RF64', wav([ds64(2 * RATE), format, { ...data, size: 0xffffffff }], 'RF64', 0xffffffff)],
    ['BW64', wav([ds64(2 * RATE), format, { ...data, size: 0xffffffff }], 'BW64', 0xffffffff)],
    ['an ID3 tag in front', Uint8Array.from([...id3, ...wav([format, data])])],
  ])('%s', async (_, bytes) => {
    const { samples, problems } = await readRecording(write('header.wav', bytes));
    expect(samples.length).toBe(RATE);
    expect(errorDb(samples)).toBeLessThan(-80);
    expect(problems).toEqual([]);
  });

  test('RF64 stops where its own size says, though more follows', async () => {
    const file = wav([ds64(RATE), format, { ...data, size: 0xffffffff }], 'RF64', 0xffffffff);
    expect((await readRecording(write('rf64.wav', file))).duration).toBe(0.5);
  });
});

describe('what is noticed and lived with', () => {
  test('a recording cut in the middle is read as far as it goes, and says so', async () => {
    const whole = wav([fmt(1, 1, RATE, 16), { id: 'data', body: int16(sound) }]);
    const { duration, problems } = await readRecording(write('cut.wav', whole.subarray(0, 44 + 19201)));
    expect(duration).toBe(0.6);
    expect(problems).toEqual([
      {
        stage: 'recording',
        message:
          'cut.wav is cut short: its header promises 1.0 s of sound and 0.6 s are there; those were read.',
      },
    ]);
  });

  test('broken samples become silence', async () => {
    const broken = Float32Array.from(sound);
    broken.set([Number.NaN, Number.POSITIVE_INFINITY, -1e30], 100);
    const file = wav([fmt(3, 1, RATE, 32), { id: 'data', body: float32(broken) }]);
    const { samples, problems } = await readRecording(write('broken.wav', file));
    expect([...samples.subarray(100, 103)]).toEqual([0, 0, 0]);
    expect(samples.every(Number.isFinite)).toBe(true);
    expect(problems[0]?.message).toContain('3 broken samples');
  });

  test('clipping is named, a loud whole recording is not', async () => {
    const clipped = sound.map((sample) => Math.max(-1, Math.min(1, 4 * sample)));
    const loud = sound.map((sample) => 2 * sample);
    const fileOf = (samples: Float32Array) =>
      wav([fmt(1, 1, RATE, 16), { id: 'data', body: int16(samples) }]);
    const first = await readRecording(write('clipped.wav', fileOf(clipped)));
    expect(first.problems.map(({ message }) => message).join()).toMatch(/clipped\.wav is clipped: \d+ %/);
    expect((await readRecording(write('loud.wav', fileOf(loud)))).problems).toEqual([]);
  });

  test('floats on the scale of integers are turned down', async () => {
    const file = wav([
      fmt(3, 1, RATE, 32),
      { id: 'data', body: float32(sound.map((sample) => 32768 * sample)) },
    ]);
    const { samples, problems } = await readRecording(write('large.wav', file));
    expect(Math.max(...samples)).toBeCloseTo(1, 3);
    expect(problems.map(({ message }) => message).join()).toContain('turned down');
  });
});

test.each([8000, 11025, 22050, 44100, 48000, 96000, 192000])(
  'a second at %i Hz is a second',
  async (rate) => {
    const file = wav([fmt(1, 1, rate, 16), { id: 'data', body: int16(tone(1000, rate, rate, 0.5)) }]);
    const { samples, duration } = await readRecording(write('rate.wav', file));
    expect(duration).toBe(1);
    expect(amplitudeAt(1000, 16000, samples.subarray(1000, 15000))).toBeCloseTo(0.5, 3);
  },
);

test('the recording carries its name and the checksum of the file', async () => {
  const file = wav([fmt(1, 1, 8000, 16), { id: 'data', body: new Uint8Array(16) }]);
  const { file: name, sha256 } = await readRecording(write('named.wav', file));
  const digest = await crypto.subtle.digest('SHA-256', Uint8Array.from(file));
  expect(name).toBe('named.wav');
  expect(sha256).toBe(Buffer.from(digest).toString('hex'));
});
