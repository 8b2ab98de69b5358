import type { Hit } from '../../language/lexicon.ts';
import { hitsWithin, rangeOfWords, type TokenRange } from '../../language/talk.ts';
import type { Statement } from '../../statements/statement.ts';
import { frameWordsOf } from '../frame-words.ts';
import type { Reading } from '../reading.ts';
import { endsClause } from './clauses.ts';

/** A word that points at the frame on screen, "there", or at a stretch, "this whole bit", and when it was said. */
export interface Pointing {
  readonly means: 'points' | 'span';
  readonly seconds: number;
  /** Whether it is more than one "there" within a clause, which may be of a place in the picture: "the ripple there". */
  readonly strong: boolean;
}

/** The pointing words among some hits that lie within a stretch of the talk, in order. */
export function pointingIn(
  { talk, language }: Pick<Reading, 'talk' | 'language'>,
  hits: readonly Hit[],
  within: TokenRange,
): Pointing[] {
  const { pointers, inSpace } = frameWordsOf(language);
  return hits.flatMap(({ lexicon, means, first, last }): Pointing[] => {
    if (lexicon !== 'pointing' || (means !== 'points' && means !== 'span')) return [];
    if (first < within.first || last > within.last) return [];
    const forms = talk.tokens.slice(first, last + 1).map(({ form }) => form);
    const at = forms.findIndex((form) => pointers.has(form));
    const before = at > 0 ? forms[at - 1] : talk.tokens[first - 1]?.form;
    if (means === 'points' && at >= 0 && inSpace.has(before ?? '')) return [];
    const word = talk.words[talk.tokens[first + Math.max(0, at)]?.word ?? -1];
    const alone = endsClause(talk, first - 1) && endsClause(talk, last);
    return word ? [{ means, seconds: word.start, strong: last > first || alone }] : [];
  });
}

/** A pointing word that was said outside of any note, and when the next note is begun. */
export interface LoosePointing extends Pointing {
  readonly opens: number;
}

/** Statements of so few words that point do no more than that, whatever else was taken from them: "See? There." */
const BARE_WORDS = 4;

/**
 * The pointing words of statements that say no note themselves: "Watch, watch. There." before the note is said. In "so this is
 * the fox" nobody points.
 */
export function loosePointing(reading: Reading, statements: readonly Statement[]): LoosePointing[] {
  const { talk } = reading;
  const found: LoosePointing[] = [];
  let waiting: Pointing[] = [];
  for (const { role, start, firstWord, lastWord } of statements) {
    const says = role === 'fix' || role === 'keep';
    if (says) {
      found.push(...waiting.map((one) => ({ ...one, opens: start })));
      waiting = [];
    }
    const range = rangeOfWords(talk, firstWord, lastWord);
    const bare = lastWord - firstWord < BARE_WORDS;
    if (range && (role === 'aside' || (says && bare)))
      waiting.push(...pointingIn(reading, hitsWithin(talk, range), range).filter(({ strong }) => strong));
  }
  return found;
}
