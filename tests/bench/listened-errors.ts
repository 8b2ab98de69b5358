import type { ListenFor } from '../../src/transcript/glossary/listen-for.ts';
import { spokenWords } from './spoken-words.ts';
import { lineUp } from './word-error-rate.ts';

/** How the words listened for fared: said, not heard where they were said, heard where they were not. */
export interface ListenedCount {
  said: number;
  misheard: number;
  invented: number;
}

/** Words of phrases and names that are of no trade when they stand alone. */
const EVERYBODYS = new Set(
  'a an and back for front he her hers him his hit in it its left man more of off on one ones out right she the them they three to two twos up'.split(
    ' ',
  ),
);

/** Counts the words listened for in a true and a heard text; those of a shot's lines are left out, since they are played too. */
export function listenedErrors(
  truth: readonly string[],
  heard: readonly string[],
  { phrases }: ListenFor,
): ListenedCount {
  const words = new Set(
    phrases
      .filter(({ source }) => source !== 'line')
      .flatMap(({ text }) => spokenWords(text))
      .filter((word) => !EVERYBODYS.has(word)),
  );
  const count: ListenedCount = { said: 0, misheard: 0, invented: 0 };
  for (const match of lineUp(truth, heard)) {
    const said = match.truth === null ? undefined : truth[match.truth];
    const written = match.heard === null ? undefined : heard[match.heard];
    if (said !== undefined && words.has(said)) {
      count.said++;
      if (said !== written) count.misheard++;
    }
    if (written !== undefined && words.has(written) && said !== written) count.invented++;
  }
  return count;
}
