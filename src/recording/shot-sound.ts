import { z } from 'zod';
import type { KeptKind } from '../basics/kept.ts';
import { type Pass, passSchema } from '../basics/pass.ts';
import { PersonError, type Problem } from '../basics/problem.ts';
import { type OpenOptions, type OpenRecording, openRecording, RECORDING_VERSION } from './open-recording.ts';
import { findPasses, type ShotFrames } from './passes/find-passes.ts';
import { type Recording, SAMPLE_RATE } from './recording.ts';

/** A shorter sound could be found anywhere. */
const LEAST_SECONDS = 0.5;
/** Root mean square below which a sound is silence: -80 dB of full scale. */
const SILENCE = 1e-4;
/** Passes less likely than this are heard but not told from another place of the shot: they would mislead. */
const BELIEVED = 0.5;
/** The reading's part of the whole time. */
const READ_SHARE = 0.1;

/** Raise it when the same two sounds may give other passes, whether believed or not. */
export const SHOT_SOUND_VERSION = 5;

const KEPT_PASSES: KeptKind<Pass[]> = {
  name: 'shot-sound',
  version: SHOT_SOUND_VERSION,
  schema: z.array(passSchema),
};

/**
 * Finds where the shot's own sound plays in a recording.
 * @param path the shot's sound or picture, any kind of file that a recording may be; the beginning of the file is the beginning of the
 *   first frame, sound that begins later is late
 * @returns passes in the order of time, and the sound itself where it could be used. What is wrong with the shot's sound is a problem, never an error: the sheet can be made without it
 */
export async function findShotPasses(
  recording: OpenRecording,
  path: string,
  frames: ShotFrames,
  options: OpenOptions = {},
): Promise<{ passes: Pass[]; problems: Problem[]; shot: OpenRecording | null }> {
  const { signal, onProgress, kept } = options;
  const shot = await orSentence(() =>
    openRecording(path, { signal, kept, onProgress: (done) => onProgress?.(READ_SHARE * done) }),
  );
  if (typeof shot === 'string') return unused(shot);
  const of = {
    recording: recording.sha256,
    shot: shot.sha256,
    fps: frames.fps,
    first: frames.first,
    decoding: RECORDING_VERSION,
  };
  let heard = await kept?.get(KEPT_PASSES, of);
  if (!heard) {
    const sound = await orSentence(() => shot.read());
    if (typeof sound === 'string') return unused(sound);
    const unusable = whyUnusable(sound);
    if (unusable) return { passes: [], problems: [...sound.problems, problem(unusable)], shot: null };
    heard = await findPasses((await recording.read()).samples, sound.samples, frames, {
      signal,
      onProgress: (done) => onProgress?.(READ_SHARE + (1 - READ_SHARE) * done),
    });
    await kept?.put(KEPT_PASSES, of, heard);
  }
  const problems = [...(await shot.facts()).problems];
  const passes = heard.filter(({ confidence }) => confidence >= BELIEVED);
  if (passes.length === 0) {
    problems.push(
      problem(
        `${shot.file} is not heard anywhere in ${recording.file}: is it the sound of this shot, and was it played aloud?`,
      ),
    );
  }
  return { passes, problems, shot };
}

/** What comes of it, or the sentence that says why nothing does. */
async function orSentence<T>(work: () => Promise<T>): Promise<T | string> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof PersonError) return error.message;
    throw error;
  }
}

/** What opening or reading says ends with advice about recordings; here the file is the shot's. */
function unused(because: string): { passes: Pass[]; problems: Problem[]; shot: null } {
  const [fact] = because.replace(/\.$/, '').split(/: (?=[a-z])/);
  const message = `${fact}, so the shot was not looked for by its sound: give a file that holds the shot's own sound.`;
  return { passes: [], problems: [problem(message)], shot: null };
}

function whyUnusable({ file, samples, duration }: Recording): string | null {
  if (duration < LEAST_SECONDS) {
    return `${file} lasts ${duration.toFixed(2)} s, too short to be found in a recording: give at least half a second of the shot's sound.`;
  }
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += (samples[i] as number) ** 2;
  if (Math.sqrt(sum / samples.length) >= SILENCE) return null;
  return `${file} is silent for all its ${Math.round(samples.length / SAMPLE_RATE)} s, so it cannot be found in the recording: give the shot's sound.`;
}

function problem(message: string): Problem {
  return { stage: 'recording', message };
}
