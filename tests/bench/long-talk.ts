import { fileURLToPath } from 'node:url';
import { readCritiques, shotOf, spokenForm } from '../../src/measure/critique.ts';
import type { Transcript, Word } from '../../src/transcript/transcript.ts';

/** The labelled critiques to measure speed on, each with the words that are spoken in it. */
export const spoken = readCritiques(fileURLToPath(new URL('../critiques/dev', import.meta.url))).map(
  (critique) => ({
    name: critique.name,
    shot: shotOf(critique),
    transcript: spokenForm(critique).transcript,
  }),
);

/** The critiques one after the other, again and again, until there are so many words. */
export function talkOf(count: number) {
  const [first] = spoken;
  if (!first) throw new Error('there are no labelled critiques');
  const words: Word[] = [];
  let clock = 0;
  for (let i = 0; words.length < count; i++) {
    const offset = clock;
    for (const word of spoken[i % spoken.length]?.transcript.words ?? []) {
      words.push({ ...word, start: word.start + offset, end: word.end + offset });
    }
    clock = (words.at(-1)?.end ?? clock) + 1;
  }
  const talk = words.slice(0, count);
  const transcript: Transcript = {
    ...first.transcript,
    recording: { ...first.transcript.recording, duration: (talk.at(-1)?.end ?? 0) + 1 },
    words: talk,
  };
  return { shot: first.shot, transcript };
}
