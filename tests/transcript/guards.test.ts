import { describe, expect, it } from 'vitest';
import type { Engine, HeardRegion } from '../../src/transcript/engines/engine.ts';
import { partAfterthoughts } from '../../src/transcript/guards/afterthoughts.ts';
import { isInvented } from '../../src/transcript/guards/invented.ts';
import { compressionRatio, cutLoops, findLoop, isLooping } from '../../src/transcript/guards/loops.ts';
import { quietestSample } from '../../src/transcript/guards/quietest.ts';
import { hearRegion } from '../../src/transcript/hear-region.ts';

const words = (text: string) =>
  text
    .split(' ')
    .map((word, index) => ({ text: word, start: index / 10, end: (index + 1) / 10, confidence: 0.9 }));
const heard = (text: string, change: Partial<HeardRegion> = {}): HeardRegion => ({
  words: text === '' ? [] : words(text),
  meanLogProbability: -0.1,
  unfinished: false,
  ...change,
});
const textOf = (list: readonly { text: string }[]) => list.map((word) => word.text).join(' ');

describe('loops', () => {
  it('finds a phrase said over and over, whatever its case and punctuation', () => {
    const loop = findLoop('then ease in, Ease in ease in ease in. ease in and stop'.split(' '));
    expect(loop).toEqual({ start: 1, length: 2, repeats: 5 });
  });

  it.each(['no no no no leave it', 'words words words words', 'more and more and more and more of it', ''])(
    'leaves speech alone: %s',
    (text) => {
      expect(isLooping(text.split(' '))).toBe(false);
    },
  );

  it('keeps the first round and what follows', () => {
    const looping = `the arm ${'swings back and '.repeat(6)}stops`;
    expect(textOf(cutLoops(words(looping)))).toBe('the arm swings back and stops');
  });

  it('compresses a text that repeats itself far more than one that does not', () => {
    expect(compressionRatio('the knee '.repeat(30))).toBeGreaterThan(2.4);
    expect(
      compressionRatio('she turns too early and the scarf never follows through behind her head'),
    ).toBeLessThan(2);
  });

  it('cuts at the quietest place of the middle', () => {
    const sound = Float32Array.from({ length: 32000 }, (_, i) => (i > 18000 && i < 22000 ? 0 : Math.sin(i)));
    expect(quietestSample(sound)).toBeGreaterThan(18000);
    expect(quietestSample(sound)).toBeLessThan(22000);
  });
});

describe('invented words', () => {
  const clear = new Float32Array(60).fill(0.95);
  it('drops words where nobody spoke', () => {
    expect(isInvented(heard('you'), 2, new Float32Array(60))).toBe(true);
  });
  it('drops guesses at an unclear voice, and keeps guesses at a clear one', () => {
    const unclear = new Float32Array(60).fill(0.2).fill(0.6, 0, 8);
    expect(isInvented(heard('you', { meanLogProbability: -0.9 }), 1.9, unclear)).toBe(true);
    expect(isInvented(heard('damp it', { meanLogProbability: -1.4 }), 1.9, clear)).toBe(false);
    expect(isInvented(heard('damp it'), 1.9, unclear)).toBe(false);
  });
  it('drops thanks that a recogniser heard unsurely in a laugh, and keeps those that were said', () => {
    const said = (text: string, confidence: number) => ({
      ...heard(text, { meanLogProbability: -0.5 }),
      words: text.split(' ').map((word, i) => ({ text: word, start: i, end: i + 1, confidence })),
    });
    expect(isInvented(said('Thank you for watching!', 0.4), 4, clear)).toBe(true);
    expect(isInvented(said('Thank you for watching!', 0.9), 4, clear)).toBe(false);
    expect(isInvented(said('Subtitles by Ann Example', 1), 4, clear)).toBe(true);
    expect(isInvented(said('Subtitles are late by two frames', 0.4), 4, clear)).toBe(false);
    expect(isInvented(said('Thank you for easing it', 0.4), 4, clear)).toBe(false);
  });
});

describe('words behind the end of the sound', () => {
  it('are taken for inventions where there are several, and kept where one was cut off', () => {
    const list = words('the arm swings back');
    expect(partAfterthoughts(list, 0.15)).toEqual({ said: list.slice(0, 2), invented: list.slice(2) });
    expect(partAfterthoughts(list, 0.3)).toEqual({ said: list, invented: [] });
  });
});

describe('hearing a region', () => {
  const sound = new Float32Array(16000 * 8).fill(0.1);
  const engine = (answer: (seconds: number) => HeardRegion): Engine & { calls: number[] } => {
    const calls: number[] = [];
    return {
      calls,
      model: { id: 'made up', sha256: null },
      async recognise(samples) {
        calls.push(samples.length / 16000);
        return answer(samples.length / 16000);
      },
      async close() {},
    };
  };

  it('halves a region that loops and puts the second half after the first', async () => {
    const fake = engine((seconds) => (seconds > 5 ? heard('go '.repeat(20).trim()) : heard('lift the hand')));
    const { words: found, cut } = await hearRegion(fake, { samples: sound, start: 0 });
    expect(fake.calls).toHaveLength(3);
    expect(textOf(found)).toBe('lift the hand lift the hand');
    expect(found[3]?.start).toBeCloseTo(fake.calls[1] ?? 0, 3);
    expect(cut).toBe(false);
  });

  it('cuts a loop that stays, and says so', async () => {
    const fake = engine(() => heard('go '.repeat(20).trim(), { unfinished: true }));
    const { words: found, cut } = await hearRegion(fake, { samples: sound, start: 0 });
    expect(cut).toBe(true);
    expect(found.length).toBeLessThanOrEqual(4);
  });

  it('tells which words it dropped', async () => {
    const fake = engine(() => heard('you', { meanLogProbability: -2 }));
    const region = await hearRegion(fake, { samples: sound, voice: new Float32Array(250), start: 0 });
    expect(region.words).toEqual([]);
    expect(textOf(region.dropped)).toBe('you');
  });
});
