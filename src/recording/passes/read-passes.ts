import { combinePasses, type Pass } from '../../basics/pass.ts';
import { messageOf, PersonError, type Problem } from '../../basics/problem.ts';
import type { Shot } from '../../basics/shot.ts';
import type { Box } from '../picture/picture.ts';
import { readRecording } from '../read-recording.ts';
import { type Recording, SAMPLE_RATE, type Watch } from '../recording.ts';

/** What may tell where the shot stood while it was talked about. */
export interface PassSources {
  /** A file with the shot's own sound: sound or a video. */
  readonly shotSound?: string | undefined;
  /** A playhead log: CSV with the columns time and frame. */
  readonly playhead?: string | undefined;
  /** Where in the recording's picture a frame counter stands, in pixels; 'find' looks for it. */
  readonly counter?: Box | 'find' | undefined;
}

export interface PassReading {
  /** In the order of time. */
  readonly passes: Pass[];
  /** One sentence for each source that told nothing, or less than it should. */
  readonly problems: Problem[];
  /** The shot's own sound, where it was given and could be read. */
  readonly shotSound: Recording | null;
}

const SHORTEST_SHOT_SECONDS = 0.5;
/** A sound that never gets louder than this (full scale is 1) is silence with noise under it. */
const SILENT_PEAK = 0.002;

/**
 * Reads every source that tells where the shot stood. `recording` is null where only its words are there. A source that fails becomes a problem, since the sheet can be made
 * without it.
 *
 * @throws the signal's reason when it is stopped
 */
export async function readPasses(
  path: string,
  recording: Recording | null,
  sources: PassSources,
  shot: Shot,
  watch: Watch = {},
): Promise<PassReading> {
  const problems: Problem[] = [];
  const attempt = async <T>(work: () => Promise<T>): Promise<T | null> => {
    try {
      return await work();
    } catch (error) {
      watch.signal?.throwIfAborted();
      if (!(error instanceof PersonError)) throw error;
      problems.push({ stage: 'recording', message: messageOf(error) });
      return null;
    }
  };
  const lists: (readonly Pass[])[] = [];
  const { shotSound: soundPath, playhead, counter } = sources;
  const sound = soundPath && recording ? await attempt(() => readShotSound(soundPath, watch)) : null;
  if (!recording && (soundPath || counter))
    problems.push({
      stage: 'recording',
      message: `${path} holds words alone, so neither the shot's sound nor a counter can be looked for in it: give the recording itself.`,
    });
  if (sound && recording) {
    const { findPasses } = await import('./find-passes.ts');
    const found = await findPasses(recording.samples, sound.samples, shot, watch);
    if (found.length === 0)
      problems.push({
        stage: 'recording',
        message: `The sound of ${sound.file} is heard nowhere in ${recording.file}: notes are placed without it; give the sound of the shot that was played.`,
      });
    lists.push(found);
  }
  if (playhead) {
    const { readPlayheadLog } = await import('./playhead-log.ts');
    const log = await attempt(() => readPlayheadLog(playhead, shot, recording?.duration ?? 0));
    if (log) {
      lists.push(log.passes);
      problems.push(...log.problems);
    }
  }
  if (counter && recording) {
    const { readCounter } = await import('../counter/read-counter.ts');
    const region = counter === 'find' ? undefined : counter;
    const read = await attempt(() => readCounter(path, { ...watch, region, shot }));
    if (read) {
      lists.push(read.passes);
      problems.push(...read.problems);
      if (read.summary) problems.push({ stage: 'recording', message: read.summary });
    }
  }
  return { passes: combinePasses(...lists), problems, shotSound: sound };
}

/** The shot's own sound. @throws PersonError where it is too short or too silent to be told from anything else. */
async function readShotSound(path: string, watch: Watch): Promise<Recording> {
  const sound = await readRecording(path, { signal: watch.signal });
  if (sound.samples.length < SHORTEST_SHOT_SECONDS * SAMPLE_RATE)
    throw new PersonError(
      `${sound.file} is ${sound.duration.toFixed(2)} seconds long, too short to be found in a recording: give the sound of the whole shot, half a second at least.`,
    );
  let peak = 0;
  for (const sample of sound.samples) peak = Math.max(peak, Math.abs(sample));
  if (peak < SILENT_PEAK)
    throw new PersonError(
      `${sound.file} is silent, so it cannot be found in a recording: give the shot with its sound, or a playhead log.`,
    );
  return sound;
}
