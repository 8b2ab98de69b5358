import { describe, expect, test } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { findRegions } from '../../src/recording/regions.ts';
import { findVoice } from '../../src/recording/voice.ts';
import { fixture, noise, ownFolder, tone, VOICE_MODELS, voiceModel } from './sounds.ts';

const { write } = ownFolder();
const STEP = 512 / 16000;
const VOICE_MODEL = voiceModel('silero_vad_v5.onnx');
const speech = (await readRecording(fixture('speech.wav'))).samples;

/** The share of steps between two moments that are taken for speech. */
function shareOfSpeech(probabilities: Float32Array, from: number, to: number): number {
  const steps = probabilities.subarray(Math.ceil(from / STEP), Math.floor(to / STEP));
  return steps.filter((probability) => probability >= 0.5).length / steps.length;
}

describe.each(VOICE_MODELS)(
  'a woman reading, with five seconds of silence before and after, by %s',
  async (name) => {
    const samples = new Float32Array(speech.length + 10 * 16000);
    samples.set(speech, 5 * 16000);
    const track = await findVoice(samples, voiceModel(name));

    test('there is one probability for each 32 ms', () => {
      expect(track.stepSeconds).toBe(STEP);
      expect(track.probabilities.length).toBe(Math.ceil(samples.length / 512));
      expect(track.probabilities.every((p) => p >= 0 && p <= 1)).toBe(true);
    });

    // Words from 0.20 to 6.79 s of the clip, by the alignment named beside it.
    test('the words are speech, the silence is not', () => {
      expect(shareOfSpeech(track.probabilities, 5.3, 11.7)).toBeGreaterThan(0.9);
      expect(shareOfSpeech(track.probabilities, 0, 4.9)).toBe(0);
      expect(shareOfSpeech(track.probabilities, 12.3, 17)).toBe(0);
    });

    test('one region holds all words and little more', () => {
      const regions = findRegions(track, samples);
      expect(regions.length).toBe(1);
      expect(regions[0]?.start).toBeGreaterThan(4.6);
      expect(regions[0]?.start).toBeLessThan(5.2);
      expect(regions[0]?.end).toBeGreaterThan(11.79);
      expect(regions[0]?.end).toBeLessThan(12.5);
    });
  },
);

describe.each(VOICE_MODELS)('by %s nobody speaks in', (name) => {
  test.each([
    ['silence', new Float32Array(5 * 16000)],
    ['the hiss of a room', noise(5 * 16000, 0.01)],
    ['loud noise', noise(5 * 16000, 0.5)],
    ['a tone', tone(440, 16000, 5 * 16000, 0.3)],
  ])('%s', async (_, samples) => {
    expect(findRegions(await findVoice(samples, voiceModel(name)), samples)).toEqual([]);
  });
});

test('a quiet voice is found too, 20 dB below the clip', async () => {
  const quiet = speech.map((sample) => sample / 10);
  expect(shareOfSpeech((await findVoice(quiet, VOICE_MODEL)).probabilities, 0.3, 6.7)).toBeGreaterThan(0.8);
});

test('no sound at all gives no steps', async () => {
  const track = await findVoice(new Float32Array(0), VOICE_MODEL);
  expect(track.probabilities.length).toBe(0);
  expect(findRegions(track, new Float32Array(0))).toEqual([]);
});

test('a model that is missing or is none says so', async () => {
  await expect(findVoice(speech, 'no-such.onnx')).rejects.toThrow(PersonError);
  await expect(findVoice(speech, write('bad.onnx', 'no model'))).rejects.toThrow('cannot be loaded');
});

test('it stops when it is told to, and tells how far it is', async () => {
  await expect(findVoice(speech, VOICE_MODEL, { signal: AbortSignal.abort() })).rejects.toThrow('aborted');
  const fractions: number[] = [];
  await findVoice(speech, VOICE_MODEL, { onProgress: (fraction) => fractions.push(fraction) });
  expect(fractions.at(-1)).toBe(1);
});
