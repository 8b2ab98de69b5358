import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { type Clip, clips, recordingOf } from '../bench/clips.ts';
import { Chance } from '../bench/frames/chance.ts';
import { errorsOf, type HeardClip, hearClips } from '../bench/speech/accuracy.ts';
import { CONDITIONS, type Condition } from '../bench/spoken/conditions.ts';
import { makeLaugh } from '../bench/spoken/laughter.ts';
import { wordErrorRate } from '../bench/word-error-rate.ts';

const RATE = 16000;
const HARD = ['quiet', 'hum', 'clipped', 'phone', 'over the shot'] as const satisfies readonly Condition[];

let cache: string;
let heard: HeardClip[];

beforeAll(async () => {
  cache = await mkdtemp(join(tmpdir(), 'models-'));
  vi.stubEnv('CRITSHEET_CACHE', cache);
  const [reading] = clips(/^lj-0004/);
  const [other] = clips(/^librivox-0880/);
  if (!reading || !other) throw new Error('the clips are not there');
  const laughed = withLaughAndSilence(reading, other);
  heard = await hearClips(
    [reading, other, ...HARD.map((name) => spoilt(reading, name)), laughed],
    'moonshine-base',
  );
}, 240_000);

afterAll(async () => {
  vi.unstubAllEnvs();
  await rm(cache, { recursive: true, force: true });
});

const wrongIn = (name: string) => {
  const clip = heard.find((one) => one.clip.name === name);
  if (!clip) throw new Error(`${name} was not heard`);
  return wordErrorRate(errorsOf(clip));
};

it.each(HARD)('a voice is heard as well where the sound is %s', (name) => {
  expect(wrongIn('lj-0004')).toBeLessThanOrEqual(0.1);
  expect(wrongIn(name)).toBeLessThanOrEqual(0.2);
});

it('neither a laugh nor half a minute of silence between two voices adds or costs a word', () => {
  const between = heard.find((one) => one.clip.name === 'laughed');
  expect(between?.words.length).toBeGreaterThan(12);
  const alone = ['lj-0004', 'librivox-0880'].flatMap(
    (name) => heard.find((one) => one.clip.name === name)?.words ?? [],
  );
  // One word of the second voice is two where it is heard alone.
  expect(Math.abs(alone.length - (between?.words.length ?? 0))).toBeLessThanOrEqual(1);
  expect(wrongIn('laughed')).toBeLessThanOrEqual(0.15);
});

function spoilt({ recording, ...clip }: Clip, name: Condition): Clip {
  const sound = CONDITIONS[name](recording.samples, new Chance(4), () => new Float32Array(RATE));
  return { ...clip, name, recording: recordingOf(`${name}.wav`, sound) };
}

function withLaughAndSilence(one: Clip, other: Clip): Clip {
  const parts = [
    one.recording.samples,
    new Float32Array(RATE / 2),
    makeLaugh(new Chance(2)).map((sample) => 0.5 * sample),
    new Float32Array(30 * RATE),
    other.recording.samples,
  ];
  const samples = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    samples.set(part, at);
    at += part.length;
  }
  return {
    name: 'laughed',
    recording: recordingOf('laughed.wav', samples),
    text: `${one.text} ${other.text}`,
    times: null,
  };
}
