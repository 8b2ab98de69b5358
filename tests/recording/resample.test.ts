import { describe, expect, test } from 'vitest';
import { Resampler, resampledLength } from '../../src/recording/resample.ts';
import { levelDb, tone } from './sounds.ts';

const RATES = [8000, 11025, 16000, 22050, 32000, 44100, 48000, 88200, 96000, 192000];

function resample(samples: Float32Array, rate: number, piece = 4096): Float32Array {
  const resampler = new Resampler(rate);
  const out: number[] = [];
  for (let at = 0; at < samples.length; at += piece) {
    for (const sample of resampler.push(samples.subarray(at, at + piece))) out.push(sample);
  }
  for (const sample of resampler.finish()) out.push(sample);
  return Float32Array.from(out);
}

describe.each(RATES)('sound of %i Hz', (rate) => {
  test('a 1 kHz tone comes out with its level, its place in time and nothing beside it', () => {
    const heard = resample(tone(1000, rate, rate, 0.5), rate);
    const wanted = tone(1000, 16000, 16000, 0.5);
    expect(heard.length).toBe(16000);
    expect(Math.abs(levelDb(heard, 1000, 15000) - levelDb(wanted, 1000, 15000))).toBeLessThan(0.1);
    const rest = heard.map((sample, i) => sample - (wanted[i] ?? 0));
    expect(levelDb(rest, 1000, 15000)).toBeLessThan(-65);
  });

  test('the consonants stay: 3 kHz and, where the file has it, 6.5 kHz', () => {
    for (const hz of [3000, 6500].filter((wanted) => wanted < 0.42 * rate)) {
      expect(Math.abs(levelDb(resample(tone(hz, rate, rate), rate), 1000, 15000))).toBeLessThan(0.1);
    }
  });

  test('a click stays where it was', () => {
    const samples = new Float32Array(rate);
    samples[(8 * rate) / 25] = 1;
    const heard = resample(samples, rate);
    expect(heard.indexOf(Math.max(...heard))).toBe((8 * 16000) / 25);
  });

  test('the length is exact, whatever the length and the pieces', () => {
    for (const length of [1, 7, 999, 12345]) {
      for (const piece of [1, 100, 5000]) {
        const heard = resample(new Float32Array(length).fill(0.25), rate, piece);
        expect(heard.length).toBe(resampledLength(length, rate));
        expect(heard.length).toBe(Math.round((length * 16000) / rate));
      }
    }
  });
});

test.each(RATES.filter((rate) => rate > 20000))(
  '10 kHz in a file of %i Hz does not come back as a false 6 kHz',
  (rate) => {
    expect(levelDb(resample(tone(10000, rate, rate), rate), 1000, 15000)).toBeLessThan(-60);
  },
);

test.each(RATES.filter((rate) => rate > 80000))(
  'tones beyond hearing in a file of %i Hz do not fold into the voice',
  (rate) => {
    for (const hz of [31000, 0.45 * rate]) {
      expect(levelDb(resample(tone(hz, rate, rate), rate), 1000, 15000)).toBeLessThan(-60);
    }
  },
);

test('pieces make no difference to the sound', () => {
  const samples = tone(440, 44100, 20000);
  expect(resample(samples, 44100, 37)).toEqual(resample(samples, 44100, 20000));
});

test('rates with no common part with 16 kHz keep their tone too', () => {
  const heard = resample(tone(1000, 47999, 47999, 0.5), 47999);
  expect(
    levelDb(
      heard.map((s, i) => s - 0.5 * Math.sin((Math.PI * i) / 8)),
      1000,
      15000,
    ),
  ).toBeLessThan(-65);
});
