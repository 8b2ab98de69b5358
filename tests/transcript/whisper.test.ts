import { describe, expect, it } from 'vitest';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { type WhisperAnswer, whisperEngine } from '../../src/transcript/engines/whisper.ts';
import { clips } from '../bench/clips.ts';
import { spokenWords } from '../bench/spoken-words.ts';
import { countErrors, wordErrorRate } from '../bench/word-error-rate.ts';

const MODEL = { id: 'whisper-base.en_timestamped', sha256: null };
const SOUND = new Float32Array(16000 * 3);

/** Answers in the form that the library's documentation shows. */
const BY_WORD: WhisperAnswer = {
  text: ' Ease it in.',
  chunks: [
    { text: ' Ease', timestamp: [0.2, 0.58] },
    { text: ' it', timestamp: [0.58, 0.7] },
    { text: ' in.', timestamp: [0.7, null] },
  ],
};
const BY_SEGMENT: WhisperAnswer = {
  text: ' Ease it in. Hold.',
  chunks: [
    { text: ' Ease it in.', timestamp: [0, 1.8] },
    { text: ' Hold.', timestamp: [1.8, 2.4] },
  ],
};

describe('a Whisper pipeline', () => {
  it('becomes words with their own times', async () => {
    const engine = whisperEngine(
      async () => ({ answer: BY_WORD, probabilities: [0.9, 0.9] }),
      MODEL,
      async () => {},
    );
    const { words, meanLogProbability } = await engine.recognise(SOUND);
    expect(words.map(({ text, start, end }) => [text, start, end])).toEqual([
      ['Ease', 0.2, 0.58],
      ['it', 0.58, 0.7],
      ['in.', 0.7, 3],
    ]);
    expect(words[0]?.confidence).toBeCloseTo(0.9);
    expect(meanLogProbability).toBeCloseTo(Math.log(0.9));
  });

  it('asks for segments where the model was exported without attention, and asks so only once', async () => {
    const asked: unknown[] = [];
    const engine = whisperEngine(
      async (_samples, timestamps) => {
        asked.push(timestamps);
        if (timestamps === 'word') {
          throw new Error('Model outputs must contain cross attentions to extract timestamps.');
        }
        return { answer: BY_SEGMENT, probabilities: [] };
      },
      MODEL,
      async () => {},
    );
    const { words } = await engine.recognise(SOUND);
    await engine.recognise(SOUND);
    expect(asked).toEqual(['word', true, true]);
    expect(words.map((word) => word.text)).toEqual(['Ease', 'it', 'in.', 'Hold.']);
    expect(words[0]?.start).toBe(0);
    expect(words[2]?.end).toBe(1.8);
    expect(words[3]).toMatchObject({ start: 1.8, end: 2.4 });
  });

  it('keeps words in order and inside the region when the pipeline does not', async () => {
    const answer = {
      text: '',
      chunks: [
        { text: ' a', timestamp: [1, 2.5] as const },
        { text: ' b', timestamp: [2, 1.9] as const },
        { text: ' c', timestamp: [9, 29.98] as const },
      ],
    };
    const engine = whisperEngine(
      async () => ({ answer, probabilities: [] }),
      MODEL,
      async () => {},
    );
    let reached = 0;
    for (const { start, end } of (await engine.recognise(SOUND)).words) {
      expect(start).toBeGreaterThanOrEqual(reached);
      expect(end).toBeGreaterThanOrEqual(start);
      reached = end;
    }
    expect(reached).toBe(3);
  });

  it('passes other faults on', async () => {
    const engine = whisperEngine(
      async () => Promise.reject(new Error('out of memory')),
      MODEL,
      async () => {},
    );
    await expect(engine.recognise(SOUND)).rejects.toThrow('out of memory');
  });
});

const folder = process.env.CRITSHEET_WHISPER_FOLDER;
describe.skipIf(!folder)('a real Whisper folder', () => {
  it('reads an audiobook', { timeout: 120_000 }, async () => {
    const engine = await openEngine(folder ?? '');
    for (const clip of clips(/librivox-0870/)) {
      const { words } = await engine.recognise(clip.recording.samples);
      const heard = spokenWords(words.map((word) => word.text).join(' '));
      expect(wordErrorRate(countErrors(spokenWords(clip.text), heard))).toBeLessThan(0.15);
    }
    await engine.close();
  });
});
