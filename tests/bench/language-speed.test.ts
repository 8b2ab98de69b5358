import { expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { talkOf } from './long-talk.ts';

const language = loadLanguage();

/** Processor time a word, since the clock of a shared machine tells of its other work. */
function microsecondsAWord(count: number): number {
  const { transcript, shot } = talkOf(count);
  const started = process.cpuUsage();
  findNotes(transcript, findStatements(transcript, shot, language), shot, language);
  return process.cpuUsage(started).user / count;
}

// Work that grew with the square of the talk would take ten times as long a word.
it('a word of a long talk is read about as fast as one of a short talk', () => {
  microsecondsAWord(1000);
  expect(microsecondsAWord(10_000) / microsecondsAWord(1000)).toBeLessThan(3);
});
