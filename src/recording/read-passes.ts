import { basename } from 'node:path';
import { combinePasses, type Pass } from '../basics/pass.ts';
import type { Problem } from '../basics/problem.ts';
import type { Shot } from '../basics/shot.ts';
import type { OpenOptions, OpenRecording } from './open-recording.ts';
import type { Box } from './picture/picture.ts';

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
  readonly shotSound: OpenRecording | null;
}

/**
 * Reads every source that tells where the shot stood. `recording` is null where only its words are there. A source that
 * tells nothing becomes a problem, since the sheet can be made without it.
 *
 * @throws PersonError where a file is not there; the signal's reason when it is stopped
 */
export async function readPasses(
  path: string,
  recording: OpenRecording | null,
  sources: PassSources,
  shot: Shot,
  watch: OpenOptions = {},
): Promise<PassReading> {
  const problems: Problem[] = [];
  const lists: (readonly Pass[])[] = [];
  const { shotSound, playhead, counter } = sources;
  let sound: OpenRecording | null = null;
  if (!recording && (shotSound || counter))
    problems.push({
      stage: 'recording',
      message: `${path} holds words alone, so neither the shot's sound nor a counter can be looked for in it: give the recording itself.`,
    });
  if (shotSound && recording) {
    const { findShotPasses } = await import('./shot-sound.ts');
    const found = await findShotPasses(recording, shotSound, shot, watch);
    lists.push(found.passes);
    problems.push(...found.problems);
    sound = found.shot;
  }
  if (playhead) {
    const { readPlayheadLog } = await import('./playhead-log.ts');
    const log = await readPlayheadLog(playhead, shot);
    lists.push(log.passes);
    problems.push(...log.problems);
    const outside = recording && whyOutside(playhead, log.passes, await recording.facts());
    if (outside) problems.push({ stage: 'recording', message: outside });
  }
  if (counter && recording) {
    const { readCounterOnce } = await import('./counter/kept-reading.ts');
    const read = await readCounterOnce(path, recording, {
      ...watch,
      region: counter === 'find' ? undefined : counter,
      shot,
    });
    lists.push(read.passes);
    problems.push(...read.problems);
    if (read.summary) problems.push({ stage: 'recording', message: read.summary });
  }
  return { passes: combinePasses(...lists), problems, shotSound: sound };
}

/** A log that was begun long before or after the recording has other times than it. */
function whyOutside(
  path: string,
  passes: readonly Pass[],
  { duration }: { duration: number },
): string | null {
  const [first] = passes;
  if (!first || first.start < duration) return null;
  const name = basename(path);
  return `${name} begins at ${first.start} s, after the end of the recording (${duration.toFixed(1)} s), and tells nothing of it: give its times in seconds of the recording.`;
}
