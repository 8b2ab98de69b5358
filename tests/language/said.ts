import type { Transcript, Word } from '../../src/transcript/transcript.ts';

const SECONDS_A_WORD = 0.36;
const PAUSE_SECONDS = 0.5;

/** Words as a recogniser gives them: each argument is one breath, after which there is half a second of silence. */
export function said(...breaths: readonly string[]): Word[] {
  let clock = 0.5;
  return breaths.flatMap((breath) => {
    const words = breath
      .split(/\s+/)
      .filter(Boolean)
      .map((text) => {
        const start = clock;
        clock += SECONDS_A_WORD;
        return { text, start, end: clock, confidence: 1 };
      });
    clock += PAUSE_SECONDS;
    return words;
  });
}

/** A transcript of such words. */
export function transcriptOf(...breaths: readonly string[]): Transcript {
  const words = said(...breaths);
  return {
    schema: 'critsheet-transcript/1',
    recording: { file: 'talk.wav', sha256: '', duration: (words.at(-1)?.end ?? 0) + 1 },
    model: { id: 'script', sha256: null },
    words,
  };
}
