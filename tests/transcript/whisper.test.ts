import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { hearRegion } from '../../src/transcript/hear-region.ts';
import { transcribe } from '../../src/transcript/transcribe.ts';
import { clips, recordingOf, spread, timeErrors } from '../bench/clips.ts';
import { spokenWords } from '../bench/spoken-words.ts';
import { countErrors, wordErrorRate } from '../bench/word-error-rate.ts';
import { noise } from '../recording/sounds.ts';
import { TONES, type ToneWhisperOptions, writeToneWhisper } from './tone-whisper.ts';

let home: string;
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'whisper-'));
});
afterAll(() => rm(home, { recursive: true, force: true }));

async function open(name: string, options: ToneWhisperOptions = {}) {
  await writeToneWhisper(join(home, name), options);
  return openEngine(join(home, name));
}

/** Each tone of the list once, at its time in seconds, in a faint noise. */
function tones(seconds: number, ...parts: readonly { tone: number; start: number; end: number }[]) {
  const samples = noise(seconds * 16000, 0.0005);
  for (const { tone, start, end } of parts) {
    const hz = TONES[tone]?.hz ?? 0;
    for (let i = Math.round(start * 16000); i < end * 16000; i++) {
      samples[i] = (samples[i] ?? 0) + 0.3 * Math.sin((2 * Math.PI * hz * i) / 16000);
    }
  }
  return samples;
}

const ALL = [
  { tone: 0, start: 0.5, end: 0.9 },
  { tone: 1, start: 0.9, end: 1.3 },
  { tone: 2, start: 1.8, end: 2.2 },
];

describe('a model of the shape of Whisper, through the real library', () => {
  it('becomes words with their own times, pauses left out', async () => {
    const engine = await open('timed');
    const { words, unfinished, meanLogProbability } = await engine.recognise(tones(3, ...ALL));
    expect(words.map((word) => word.text)).toEqual(['Ease', 'it', 'in.']);
    words.forEach(({ start, end, confidence }, i) => {
      expect(start).toBeCloseTo(ALL[i]?.start ?? 0, 1);
      expect(end).toBeCloseTo(ALL[i]?.end ?? 0, 1);
      expect(confidence).toBeGreaterThan(0.5);
    });
    expect(unfinished).toBe(false);
    expect(meanLogProbability).toBeLessThan(0);
    await engine.close();
  });

  it('hears what is there and nothing else', async () => {
    const engine = await open('timed');
    const { words } = await engine.recognise(
      tones(2.5, { tone: 0, start: 0.4, end: 0.8 }, { tone: 2, start: 1.5, end: 1.9 }),
    );
    expect(words.map((word) => word.text)).toEqual(['Ease', 'in.']);
    expect(words[1]?.start).toBeCloseTo(1.5, 1);
    expect((await engine.recognise(new Float32Array(100))).words).toEqual([]);
    await engine.close();
  });

  it('is told the language where it knows many', async () => {
    const engine = await open('many', { multilingual: true });
    const { words } = await engine.recognise(tones(3, ...ALL));
    expect(words.map((word) => word.text)).toEqual(['Ease', 'it', 'in.']);
    expect(words[2]?.start).toBeCloseTo(1.8, 1);
    await engine.close();
  });

  it('spreads words over their segment where it was exported without attention', async () => {
    const engine = await open('plain', { attention: false });
    for (const samples of [tones(3, ...ALL), tones(1.5, ...ALL.slice(0, 2))]) {
      const { words } = await engine.recognise(samples);
      expect(words.length).toBeGreaterThanOrEqual(2);
      let reached = 0;
      for (const { start, end, confidence } of words) {
        expect(start).toBeGreaterThanOrEqual(reached);
        expect(end).toBeGreaterThan(start);
        expect(confidence).toBeGreaterThan(0);
        reached = end;
      }
      expect(reached).toBeLessThanOrEqual(samples.length / 16000);
    }
    await engine.close();
  });

  it('is stopped where it goes round in circles, and heard again in halves', async () => {
    const engine = await open('looping', { looping: true });
    const samples = tones(3, ...ALL);
    const { words, unfinished } = await engine.recognise(samples);
    expect(unfinished).toBe(true);
    expect(words.length).toBeGreaterThan(20);
    expect(words.every(({ end }) => end <= 3)).toBe(true);
    const region = await hearRegion(engine, { samples, start: 0 });
    expect(region.words.map((word) => word.text)).toEqual(['Ease', 'it', 'in.']);
    expect(region.words[2]?.start).toBeCloseTo(1.8, 1);
    await engine.close();
  });

  it('has its words dropped where nobody speaks', async () => {
    const engine = await open('timed');
    const samples = tones(3, ...ALL);
    const { words, dropped } = await hearRegion(engine, { samples, voice: new Float32Array(94), start: 0 });
    expect(words).toEqual([]);
    expect(dropped).toHaveLength(3);
    await engine.close();
  });
});

const folder = process.env.CRITSHEET_WHISPER_FOLDER;
describe.skipIf(!folder)('a real Whisper folder', () => {
  const model = folder ?? '';

  it('reads an audiobook, its words in order and inside the recording', { timeout: 300_000 }, async () => {
    for (const { recording, text } of clips(/librivox/)) {
      const { transcript } = await transcribe(recording, { model });
      const heard = spokenWords(transcript.words.map((word) => word.text).join(' '));
      expect(wordErrorRate(countErrors(spokenWords(text), heard))).toBeLessThan(0.2);
      let reached = 0;
      for (const { start, end, confidence } of transcript.words) {
        expect(start).toBeGreaterThanOrEqual(reached);
        expect(end).toBeGreaterThanOrEqual(start);
        expect(confidence).toBeGreaterThan(0);
        reached = end;
      }
      expect(reached).toBeLessThanOrEqual(recording.duration);
    }
  });

  it('times words within 0.12 s on average where its export tells its attention', {
    timeout: 300_000,
  }, async ({ skip }) => {
    if (!/timestamped/.test(model)) skip();
    const errors = [];
    for (const { recording, times } of clips(/synth|mahrt/)) {
      const { transcript } = await transcribe(recording, { model });
      const { starts, ends } = timeErrors(times ?? [], transcript.words);
      errors.push(...starts, ...ends);
    }
    expect(errors.length).toBeGreaterThan(150);
    expect(spread(errors).mean).toBeLessThan(0.12);
  });

  it('invents nothing in noise and silence', { timeout: 300_000 }, async () => {
    const quiet = new Float32Array(20 * 16000);
    quiet.set(noise(10 * 16000, 0.1), 5 * 16000);
    const { transcript } = await transcribe(recordingOf('noise.wav', quiet), { model });
    expect(transcript.words).toEqual([]);
  });
});
