import { SAMPLE_RATE } from '../../recording/recording.ts';
import { readSavedTranscript } from '../saved-transcript.ts';
import type { Transcript } from '../transcript.ts';
import { type Engine, NOTHING_HEARD } from './engine.ts';

/**
 * A recogniser that hears what a saved transcript says: for every stretch the words whose middle lies in it. With it the
 * whole path runs without a model.
 */
export function replay({ model, words }: Transcript): Engine {
  return {
    model,
    async recognise(samples, _voice, startSeconds = 0) {
      const endSeconds = startSeconds + samples.length / SAMPLE_RATE;
      const within = words.filter((word) => {
        const middle = (word.start + word.end) / 2;
        return middle >= startSeconds && middle < endSeconds;
      });
      const heard = within.map(({ text, start, end, confidence }) => ({
        text,
        start: start - startSeconds,
        end: end - startSeconds,
        confidence,
      }));
      return { ...NOTHING_HEARD, words: heard };
    },
    async close() {},
  };
}

/**
 * Opens a saved transcript as a recogniser.
 *
 * @throws PersonError where the file is no transcript.
 */
export async function openReplay(path: string): Promise<Engine> {
  const { transcript } = await readSavedTranscript(path);
  return replay(transcript);
}
