import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { type Progress, readCritique } from '../../src/pipeline.ts';
import { openRecording } from '../../src/recording/open-recording.ts';
import { type PassSources, readPasses } from '../../src/recording/read-passes.ts';
import { ensureModelFolder } from '../../src/transcript/models/model-folder.ts';

const sample = (name: string): string =>
  fileURLToPath(new URL(`../../samples/puppet-audition/${name}`, import.meta.url));

/** About a second where the machine is free; it is shared here with other tests, so more is allowed, but not a stage's length. */
const LIMIT_SECONDS = 3;

/** Work that tells how far it is, until it is stopped. */
type Work = (watch: {
  readonly signal: AbortSignal;
  readonly onProgress: (progress: { readonly stage?: Progress['stage'] | undefined }) => void;
}) => Promise<unknown>;

/** Does it until a while after it first tells of a stage, then stops it; how long it took from there to the end. */
async function stopIn(
  stage: Progress['stage'] | undefined,
  work: Work,
  delayMilliseconds: number,
): Promise<{ error: unknown; seconds: number }> {
  const stop = new AbortController();
  let stoppedAt = 0;
  let begun = false;
  const error = await work({
    signal: stop.signal,
    onProgress(progress) {
      if (progress.stage !== stage || begun) return;
      begun = true;
      setTimeout(() => {
        stoppedAt = performance.now();
        stop.abort(new Error('stopped'));
      }, delayMilliseconds);
    },
  }).then(
    () => 'it went on to the end',
    (thrown: unknown) => thrown,
  );
  return { error, seconds: (performance.now() - stoppedAt) / 1000 };
}

const reading: Work = (watch) => readCritique(sample('recording.mp3'), { ...watch, model: 'moonshine-tiny' });

/** Where the shot stood, without the words, which take longest. */
async function placing(file: string, sources: PassSources): Promise<Work> {
  const recording = await openRecording(sample(file));
  // Decoded beforehand: what is stopped here comes after.
  await recording.read();
  const shot = shotSchema.parse({ first: 1001, last: 1096 });
  return ({ signal, onProgress }) =>
    readPasses(sample(file), recording, sources, shot, { signal, onProgress: () => onProgress({}) });
}

describe('a reading of two minutes and more that is stopped', () => {
  beforeAll(() => ensureModelFolder('moonshine-tiny'));

  it.each<[what: string, Progress['stage'], number]>([
    ['while the sound is decoded', 'recording', 0],
    ['while the model is loaded', 'model', 0],
    ['while speech is looked for', 'voice', 50],
    ['while the words are heard', 'words', 100],
  ])('%s ends within its limit, with the reason', async (_, stage, delay) => {
    const { error, seconds } = await stopIn(stage, reading, delay);
    expect(error).toMatchObject({ message: 'stopped' });
    expect(seconds).toBeLessThan(LIMIT_SECONDS);
  });

  it.each<[what: string, string, PassSources]>([
    ["while the shot's sound is looked for", 'recording.mp3', { shotSound: sample('shot-sound.wav') }],
    ['while a counter is looked for', 'screen.mp4', { counter: 'find' }],
  ])('%s ends within its limit, with the reason', async (_, file, sources) => {
    const { error, seconds } = await stopIn(undefined, await placing(file, sources), 0);
    expect(error).toMatchObject({ message: 'stopped' });
    expect(seconds).toBeLessThan(LIMIT_SECONDS);
  });
});
