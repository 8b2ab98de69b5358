import type { Shot } from '../../src/basics/shot.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import type { Transcript } from '../../src/transcript/transcript.ts';
import { spoken, talkOf } from './long-talk.ts';

/**
 * Prints how fast the language stages are and what memory they take: on each labelled critique with `--each`, and on one
 * talk of 1,000 words (twice, since the first reading warms up), of 9,000 (an hour), of 10,000 and of 100,000. Time is
 * that of the processor, user part, since a shared machine's clock tells of its other work.
 */

/** Talk runs at about 150 words a minute. */
const HOUR_WORDS = 9000;
const SIZES = [1000, HOUR_WORDS, 10_000, 100_000];
const MEGABYTE = 1024 ** 2;

/** Seconds of processor time of this process so far. */
const userSeconds = (): number => process.cpuUsage().user / 1e6;

const loading = userSeconds();
const language = loadLanguage();
console.log(`lexicons and weights read in ${(userSeconds() - loading).toFixed(2)} s`);

function measure(name: string, transcript: Transcript, shot: Shot): void {
  globalThis.gc?.();
  const before = process.memoryUsage();
  const started = userSeconds();
  const statements = findStatements(transcript, shot, language);
  const split = userSeconds();
  const { notes } = findNotes(transcript, statements, shot, language);
  const ended = userSeconds();
  const after = process.memoryUsage();
  const count = transcript.words.length;
  const each = (((ended - started) / count) * 1e6).toFixed(0);
  const peak = (process.resourceUsage().maxRSS * 1024 - before.rss) / MEGABYTE;
  const grown = (kind: 'heapUsed' | 'rss'): string => ((after[kind] - before[kind]) / MEGABYTE).toFixed(0);
  console.log(
    `${name}: ${count} words, ${statements.length} statements, ${notes.length} notes in ${(ended - started).toFixed(2)} s ` +
      `(statements ${(split - started).toFixed(2)} s, notes ${(ended - split).toFixed(2)} s), ${each} µs a word; ` +
      `memory grew by ${grown('heapUsed')} MB of heap, ${grown('rss')} MB of process, ${peak.toFixed(0)} MB at most`,
  );
}

if (process.argv.includes('--each')) for (const one of spoken) measure(one.name, one.transcript, one.shot);
for (const size of [1000, ...SIZES]) {
  const { transcript, shot } = talkOf(size);
  measure(size === HOUR_WORDS ? 'an hour of talk' : 'talk', transcript, shot);
}
