import type { Shot } from '../basics/shot.ts';
import type { Language } from '../language/language.ts';
import { rangeOfWords, readTalk, type Talk, type TokenRange } from '../language/talk.ts';
import { type Critique, shotOf, spokenForm } from '../measure/critique.ts';
import { findRepairs } from '../statements/repairs.ts';
import type { Statement } from '../statements/statement.ts';
import type { Transcript } from '../transcript/transcript.ts';
import { turnLabels } from './turn-labels.ts';

/** A critique read with the lexicons, with its segments as the statements that they are. */
export interface Prepared {
  readonly critique: Critique;
  readonly shot: Shot;
  readonly transcript: Transcript;
  readonly talk: Talk;
  readonly segments: readonly { firstWord: number; lastWord: number; start: number; end: number }[];
  readonly ranges: readonly TokenRange[];
  /** The segments as perfectly understood statements. */
  readonly statements: readonly Statement[];
}

/** Reads a critique as if every segment had been cut and understood rightly. */
export function prepare(critique: Critique, language: Language): Prepared {
  const { transcript, segments } = spokenForm(critique);
  const talk = readTalk(transcript.words, language);
  const ranges = segments.map(
    ({ firstWord, lastWord }) => rangeOfWords(talk, firstWord, lastWord) ?? { first: 0, last: 0 },
  );
  const repairs = findRepairs(talk).map(({ kind, first, last }) => ({
    kind,
    firstWord: talk.tokens[first]?.word ?? 0,
    lastWord: talk.tokens[last]?.word ?? 0,
  }));
  const labels = turnLabels(critique);
  const statements = critique.segments.map((segment, i): Statement => {
    const { firstWord, lastWord, start, end } = segments[i] ?? {
      firstWord: 0,
      lastWord: 0,
      start: 0,
      end: 0,
    };
    return {
      id: `s${i + 1}`,
      start,
      end,
      text: segment.say,
      role: segment.role,
      confidence: 1,
      opening: labels[i]?.endsWith('+') ? 1 : 0,
      firstWord,
      lastWord,
      repairs: repairs.filter((repair) => repair.firstWord >= firstWord && repair.lastWord <= lastWord),
    };
  });
  return { critique, shot: shotOf(critique), transcript, talk, segments, ranges, statements };
}
