import { openRecording } from './open-recording.ts';
import type { Recording, Watch } from './recording.ts';

/**
 * Reads the sound of a recording: WAV, mp3, m4a, flac, ogg, webm, or the sound of a video.
 * @param path the file, absolute or from the working folder
 * @param options `signal` stops the work; `onProgress` is told how far it is, 0 to 1
 * @returns 16 kHz mono samples and what was noticed: a file cut short, clipping, broken samples
 * @throws PersonError where there is no sound to be had, with one sentence that says why and what to do;
 *   the signal's reason when it is stopped
 */
export async function readRecording(path: string, options: Watch = {}): Promise<Recording> {
  const { signal, onProgress } = options;
  return (await openRecording(path, { signal, onProgress })).read();
}
