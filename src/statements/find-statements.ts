import type { Shot } from '../basics/shot.ts';
import type { Language } from '../language/language.ts';
import { readTalk, type Talk, type TokenRange } from '../language/talk.ts';
import type { Transcript } from '../transcript/transcript.ts';
import { findDialogue } from './dialogue.ts';
import { findRepairs } from './repairs.ts';
import { findTurns } from './roles.ts';
import { splitTalk } from './split.ts';
import type { Repair, Statement } from './statement.ts';

/**
 * Cuts a transcript into statements and says what each is for. Every word is in exactly one statement; words without a
 * letter or a digit go with the word before them.
 */
export function findStatements(transcript: Transcript, shot: Shot, language: Language): Statement[] {
  const talk = readTalk(transcript.words, language);
  const lines = findDialogue(talk.tokens, shot.dialogue);
  // Words without a letter or a digit make no token; alone they still are a statement, so that nothing said is missing.
  if (talk.tokens.length === 0 && talk.words.length > 0) return [wordless(transcript)];
  const ranges = splitTalk(talk, lines, language);
  const turns = findTurns(talk, ranges, lines, language);
  const repairs = findRepairs(talk).map(
    ({ kind, first, last }): Repair => ({
      kind,
      firstWord: wordOf(talk, first),
      lastWord: wordOf(talk, last),
    }),
  );
  return ranges.map((_, i) => {
    const { firstWord, lastWord } = wordsOf(talk, ranges, i);
    const turn = turns[i];
    return {
      id: `s${i + 1}`,
      start: transcript.words[firstWord]?.start ?? 0,
      end: transcript.words[lastWord]?.end ?? 0,
      text: transcript.words
        .slice(firstWord, lastWord + 1)
        .map((word) => word.text)
        .join(' '),
      role: turn?.role ?? 'aside',
      confidence: turn?.confidence ?? 0,
      opening: turn?.opening ?? 0,
      firstWord,
      lastWord,
      repairs: repairs.filter((repair) => repair.firstWord >= firstWord && repair.lastWord <= lastWord),
    };
  });
}

function wordless({ words }: Transcript): Statement {
  return {
    id: 's1',
    start: words[0]?.start ?? 0,
    end: words.at(-1)?.end ?? 0,
    text: words.map((word) => word.text).join(' '),
    role: 'aside',
    confidence: 1,
    opening: 0,
    firstWord: 0,
    lastWord: words.length - 1,
    repairs: [],
  };
}

function wordOf(talk: Talk, token: number): number {
  return talk.tokens[token]?.word ?? 0;
}

/** The words of a stretch, with those before the next stretch that hold no token. */
function wordsOf(
  talk: Talk,
  ranges: readonly TokenRange[],
  i: number,
): { firstWord: number; lastWord: number } {
  const range = ranges[i];
  const next = ranges[i + 1];
  const firstWord = i === 0 ? 0 : wordOf(talk, range?.first ?? 0);
  const lastWord = next ? wordOf(talk, next.first) - 1 : talk.words.length - 1;
  return { firstWord, lastWord: Math.max(firstWord, lastWord) };
}
