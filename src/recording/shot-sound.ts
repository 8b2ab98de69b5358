import type { Pass } from '../basics/pass.ts';
import { PersonError, type Problem } from '../basics/problem.ts';
import { findPasses, type ShotFrames } from './passes/find-passes.ts';
import { readRecording } from './read-recording.ts';
import { type Recording, SAMPLE_RATE, type Watch } from './recording.ts';

/** A shorter sound could be found anywhere. */
const LEAST_SECONDS = 0.5;
/** Root mean square below which a sound is silence: -80 dB of full scale. */
const SILENCE = 1e-4;
/** Passes less likely than this are heard but not told from another place of the shot: they would mislead. */
const BELIEVED = 0.5;
/** The reading's part of the whole time. */
const READ_SHARE = 0.1;

/**
 * Finds where the shot's own sound plays in a recording.
 * @param path the shot's sound or picture, any kind of file that a recording may be; the beginning of the file is the beginning of the
 *   first frame, sound that begins later is late
 * @returns passes in the order of time, and the sound itself where it could be used. What is wrong with the shot's sound is a problem, never an error: the sheet can be made without it
 */
export async function findShotPasses(
  recording: Pick<Recording, 'file' | 'samples'>,
  path: string,
  frames: ShotFrames,
  watch: Watch = {},
): Promise<{ passes: Pass[]; problems: Problem[]; shot: Recording | null }> {
  const { signal, onProgress } = watch;
  let shot: Recording;
  try {
    shot = await readRecording(path, { signal, onProgress: (done) => onProgress?.(READ_SHARE * done) });
  } catch (error) {
    if (!(error instanceof PersonError)) throw error;
    return {
      passes: [],
      problems: [problem(`The shot's sound was not used. ${error.message}`)],
      shot: null,
    };
  }
  const problems = [...shot.problems];
  const unusable = whyUnusable(shot);
  if (unusable) return { passes: [], problems: [...problems, problem(unusable)], shot: null };
  const heard = await findPasses(recording.samples, shot.samples, frames, {
    signal,
    onProgress: (done) => onProgress?.(READ_SHARE + (1 - READ_SHARE) * done),
  });
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
