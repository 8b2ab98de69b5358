import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { WaveFile } from 'wavefile';
import { openRecording } from '../../src/recording/open-recording.ts';
import { findShotPasses } from '../../src/recording/shot-sound.ts';
import { readSamples, SPEECH } from '../bench/clips.ts';
import { Chance } from '../bench/frames/chance.ts';
import { atPace } from '../bench/frames/sound.ts';
import { makeVoice } from '../bench/frames/talk.ts';
import { makeFilm, reasonForNoFilm } from './screen/film.ts';
import { ownFolder } from './sounds.ts';

vi.setConfig({ testTimeout: 120_000 });
const { folder, write } = ownFolder();
const RATE = 16000;
const FRAMES = { fps: 24, first: 101 };
const line = readSamples(join(SPEECH, 'mahrt-pumpkins.wav'));
/** Where the line begins in the recording, under another voice. */
const PLAYED_AT = 4;

function wavOf(samples: Float32Array, rate: number, channels = 1): Uint8Array {
  const file = new WaveFile();
  const whole = Int16Array.from(samples, (x) => Math.max(-1, Math.min(1, x)) * 32767);
  file.fromScratch(channels, rate, '16', channels === 1 ? whole : [whole, whole]);
  return file.toBuffer();
}

const talk = makeVoice(12 * RATE, ['librivox-0870', 'librivox-0890'], new Chance(3), 1);
for (const [i, x] of line.entries()) talk[PLAYED_AT * RATE + i] = (talk[PLAYED_AT * RATE + i] ?? 0) + x;
const recording = await openRecording(write('take.wav', wavOf(talk, RATE)));

const noFilm = await reasonForNoFilm();

describe("a shot's own sound is found from a file", () => {
  /** The frame on which the shot stood when the line began. */
  async function frameAtLine(path: string): Promise<number> {
    const { passes, problems, shot } = await findShotPasses(recording, path, FRAMES);
    expect(problems).toEqual([]);
    expect(shot).not.toBeNull();
    expect(passes.length).toBe(1);
    const [pass] = passes;
    if (!pass) throw new Error('no pass');
    const part = (PLAYED_AT + 1 - pass.start) / (pass.end - pass.start);
    return pass.first + part * (pass.last - pass.first) - FRAMES.fps;
  }

  it('of the same rate', async () => {
    expect(await frameAtLine(write('line.wav', wavOf(line, RATE)))).toBeCloseTo(101, 0);
  });

  it.each([
    [8000, 1],
    [44100, 2],
    [48000, 2],
  ])('of %i samples a second, %i channels', async (rate, channels) => {
    const other = atPace(line, RATE / rate);
    expect(await frameAtLine(write(`line-${rate}.wav`, wavOf(other, rate, channels)))).toBeCloseTo(101, 0);
  });

  it.skipIf(noFilm)('of an mkv whose sound begins 0.75 s after its pictures', async () => {
    const path = join(folder, 'late.mkv');
    const bytes = new Uint8Array((64 * 48 * 3) / 2).fill(128);
    const pictures = Array.from({ length: 96 }, (_, i) => ({
      seconds: i / 24,
      picture: { width: 64, height: 48, bytes },
    }));
    await makeFilm(path, pictures as never, {
      width: 64,
      height: 48,
      sound: { startSeconds: 0.75, samples: line },
    });
    // The line begins with the shot's frame 101 + 0.75 * 24.
    expect(Math.abs((await frameAtLine(path)) - 119)).toBeLessThanOrEqual(1);
  });
});

describe("a shot's sound that cannot be used is a sentence, never an error", () => {
  async function sentenceOf(path: string): Promise<string> {
    const { passes, problems } = await findShotPasses(recording, path, FRAMES);
    expect(passes).toEqual([]);
    expect(problems.length).toBe(1);
    return problems[0]?.message ?? '';
  }

  it('silent', async () => {
    const path = write('silent.wav', wavOf(new Float32Array(2 * RATE), RATE));
    expect(await sentenceOf(path)).toMatch(
      /^silent\.wav is silent for all its 2 s, so .+: give the shot's sound\.$/,
    );
  });

  it('shorter than half a second', async () => {
    const path = write('short.wav', wavOf(line.subarray(0, 0.4 * RATE), RATE));
    expect(await sentenceOf(path)).toMatch(/^short\.wav lasts 0\.40 s, too short to be found/);
  });

  it('not in the recording at all', async () => {
    const path = write('other.wav', wavOf(readSamples(join(SPEECH, 'riva-nlp.wav')), RATE));
    expect(await sentenceOf(path)).toMatch(/^other\.wav is not heard anywhere in take\.wav/);
  });

  it('no sound at all, and no such file', async () => {
    expect(await sentenceOf(write('notes.wav', 'hold the knee\n'))).toBe(
      "notes.wav holds text, not sound, so the shot was not looked for by its sound: give a file that holds the shot's own sound.",
    );
    expect(await sentenceOf(join(folder, 'gone.wav'))).toMatch(
      /^There is no file .*gone\.wav, so the shot was not looked for/,
    );
  });
});
