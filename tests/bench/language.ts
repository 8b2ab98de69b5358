import { fileURLToPath } from 'node:url';
import { loadLanguage } from '../../src/language/language.ts';
import { readCritiques, shotOf, spokenForm } from '../../src/measure/critique.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import type { Transcript, Word } from '../../src/transcript/transcript.ts';

/** Prints how fast the language stages are: on each labelled critique, and on an hour of talk in one piece. */

const HOUR_SECONDS = 3600;
const critiques = readCritiques(fileURLToPath(new URL('../critiques/dev', import.meta.url)));

const loading = performance.now();
const language = loadLanguage();
console.log(`lexicons and weights read in ${seconds(loading)} s`);

function seconds(since: number): string {
  return ((performance.now() - since) / 1000).toFixed(2);
}

function measure(name: string, transcript: Transcript, shot: ReturnType<typeof shotOf>): void {
  const started = performance.now();
  const statements = findStatements(transcript, shot, language);
  const split = performance.now();
  const { notes } = findNotes(transcript, statements, shot, language);
  const took = (performance.now() - started) / 1000;
  const rate = `${Math.round(statements.length / took)} statements, ${Math.round(transcript.words.length / took)} words a second`;
  const parts = `statements ${((split - started) / 1000).toFixed(2)} s, notes ${seconds(split)} s`;
  console.log(
    `${name}: ${transcript.words.length} words, ${statements.length} statements, ${notes.length} notes in ${took.toFixed(2)} s (${parts}): ${rate}`,
  );
}

for (const critique of critiques) measure(critique.name, spokenForm(critique).transcript, shotOf(critique));

/** Critiques one after the other, again and again, until an hour is full. */
function anHour(): Transcript {
  const words: Word[] = [];
  let clock = 0;
  const spoken = critiques.map((critique) => spokenForm(critique).transcript);
  const [first] = spoken;
  if (!first) throw new Error('there are no labelled critiques');
  while (clock < HOUR_SECONDS) {
    for (const transcript of spoken) {
      const offset = clock;
      for (const word of transcript.words) {
        words.push({ ...word, start: word.start + offset, end: word.end + offset });
      }
      clock = (words.at(-1)?.end ?? clock) + 1;
    }
  }
  const within = words.filter((word) => word.end <= HOUR_SECONDS);
  return { ...first, recording: { ...first.recording, duration: HOUR_SECONDS }, words: within };
}

const [critique] = critiques;
if (critique) measure('an hour of talk', anHour(), shotOf(critique));
