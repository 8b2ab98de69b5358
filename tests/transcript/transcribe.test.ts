import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { transcribe } from '../../src/transcript/transcribe.ts';
import type { Transcript } from '../../src/transcript/transcript.ts';
import { clips, readSamples, recordingOf, SPEECH, spread, timeErrors } from '../bench/clips.ts';
import { spokenWords } from '../bench/spoken-words.ts';
import { addErrors, countErrors, wordErrorRate } from '../bench/word-error-rate.ts';

let cache: string;
beforeAll(async () => {
  cache = await mkdtemp(join(tmpdir(), 'models-'));
  vi.stubEnv('CRITSHEET_CACHE', cache);
});
afterAll(async () => {
  vi.unstubAllEnvs();
  await rm(cache, { recursive: true, force: true });
});

/** Clips one after another in one recording, with pauses, so that a model is loaded once for all of them. */
function joined(names: RegExp) {
  const pause = 16000;
  const all = clips(names);
  const samples = new Float32Array(
    all.reduce((sum, { recording }) => sum + recording.samples.length + pause, 0),
  );
  let at = 0;
  const times = all.flatMap(({ recording, times: own }) => {
    samples.set(recording.samples, at);
    const offset = at / 16000;
    at += recording.samples.length + pause;
    return (own ?? []).map(({ word, start, end }) => ({ word, start: start + offset, end: end + offset }));
  });
  return {
    recording: recordingOf('joined.wav', samples),
    times,
    text: all.map(({ text }) => text).join(' '),
  };
}

function expectOrder({ words }: Transcript, duration: number) {
  let reached = 0;
  for (const { start, end, confidence } of words) {
    expect(start).toBeGreaterThanOrEqual(reached);
    expect(end).toBeGreaterThanOrEqual(start);
    expect(confidence).toBeGreaterThan(0);
    expect(confidence).toBeLessThanOrEqual(1);
    reached = end;
  }
  expect(reached).toBeLessThanOrEqual(duration);
}

const rate = (text: string, { words }: Transcript) =>
  wordErrorRate(
    addErrors([countErrors(spokenWords(text), spokenWords(words.map((word) => word.text).join(' ')))]),
  );

/** Bounds: what was measured in tests/bench/speech.ts, and some slack. */
describe.each([
  { model: 'moonshine-base', errors: 0.06, syntheticErrors: 0.06 },
  { model: 'moonshine-tiny', errors: 0.08, syntheticErrors: 0.16 },
])('$model', ({ model, errors, syntheticErrors }) => {
  it('reads an audiobook', { timeout: 60_000 }, async () => {
    const { recording, text } = joined(/librivox/);
    const { transcript, problems } = await transcribe(recording, { model });
    expect(rate(text, transcript)).toBeLessThanOrEqual(errors);
    expectOrder(transcript, recording.duration);
    expect(transcript.model).toMatchObject({ id: model, sha256: expect.stringMatching(/^[0-9a-f]{64}$/) });
    expect(problems).toEqual([]);
  });

  it("times the words of a critique within 0.08 s of the synthesiser's own times, nine of ten within 0.2 s", {
    timeout: 60_000,
  }, async () => {
    const { recording, text, times } = joined(/synth/);
    const { transcript } = await transcribe(recording, { model });
    expect(rate(text, transcript)).toBeLessThanOrEqual(syntheticErrors);
    expectOrder(transcript, recording.duration);
    const { starts, ends } = timeErrors(times, transcript.words);
    expect(starts.length).toBeGreaterThan(60);
    for (const { mean, ninetieth } of [spread(starts), spread(ends)]) {
      expect(mean).toBeLessThanOrEqual(0.08);
      expect(ninetieth).toBeLessThanOrEqual(0.2);
    }
  });
});

describe('the default model', () => {
  it('times hand-timed speech', { timeout: 60_000 }, async () => {
    const { recording, times } = joined(/mahrt|mfa/);
    const { transcript } = await transcribe(recording, {});
    const { starts, ends } = timeErrors(times, transcript.words);
    for (const { mean, ninetieth } of [spread(starts), spread(ends)]) {
      expect(mean).toBeLessThanOrEqual(0.08);
      expect(ninetieth).toBeLessThanOrEqual(0.2);
    }
    expectOrder(transcript, recording.duration);
  });

  it('hears nothing in silence, noise, a tone, a hum and clicks', { timeout: 60_000 }, async () => {
    let seed = 1;
    const random = () => {
      seed = (seed * 48271) % 2147483647;
      return (seed / 2147483647) * 2 - 1;
    };
    const sounds = [
      () => 0,
      () => 0.1 * random(),
      (i: number) => 0.4 * Math.sin((2 * Math.PI * 440 * i) / 16000),
      (i: number) => 0.3 * Math.sin((2 * Math.PI * 50 * i) / 16000) + 0.01 * random(),
      (i: number) => 0.9 * Math.exp(-(i % 11200) / 80) * Math.sin(i),
    ];
    const samples = Float32Array.from(
      { length: sounds.length * 96_000 },
      (_, i) => sounds[Math.floor(i / 96_000)]?.(i) ?? 0,
    );
    const { transcript } = await transcribe(recordingOf('noise.wav', samples), {});
    expect(transcript.words).toEqual([]);
  });

  it('hears nothing in an empty recording', async () => {
    const { transcript } = await transcribe(recordingOf('empty.wav', new Float32Array(0)), {});
    expect(transcript.words).toEqual([]);
  });

  it('tells how far it is, and stops when it is told to', { timeout: 60_000 }, async () => {
    const recording = recordingOf('knee.wav', readSamples(join(SPEECH, 'synth-knee.wav')));
    const stages: string[] = [];
    const stop = new AbortController();
    const work = transcribe(recording, {
      signal: stop.signal,
      onProgress: ({ stage, fraction }) => {
        expect(fraction).toBeGreaterThanOrEqual(0);
        expect(fraction).toBeLessThanOrEqual(1);
        stages.push(stage);
        if (stage === 'words') stop.abort(new Error('stopped by hand'));
      },
    });
    await expect(work).rejects.toThrow('stopped by hand');
    expect([...new Set(stages)]).toEqual(['model', 'voice', 'words']);
  });
});

describe('a saved transcript', () => {
  it('is played back over its recording', async () => {
    const recording = recordingOf('knee.wav', readSamples(join(SPEECH, 'synth-knee.wav')));
    const saved: Transcript = {
      schema: 'critsheet-transcript/1',
      recording: { file: 'knee.wav', sha256: '0', duration: recording.duration },
      model: { id: 'by hand', sha256: null },
      words: [
        { text: 'left', start: 0.4, end: 0.6, confidence: 1 },
        { text: 'knee', start: 0.7, end: 0.9, confidence: 0.5 },
      ],
    };
    await writeFile(join(cache, 'saved.json'), JSON.stringify(saved));
    const { transcript } = await transcribe(recording, { model: join(cache, 'saved.json') });
    expect(transcript.words).toEqual(saved.words);
    expect(transcript.model).toEqual(saved.model);
  });
});
