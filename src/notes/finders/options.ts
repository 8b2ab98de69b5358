import type { Language } from '../../language/language.ts';
import type { Talk } from '../../language/talk.ts';
import type { Evidence } from '../evidence.ts';
import { frameWordsOf } from '../frame-words.ts';

/** An alternative of fewer words than this is part of a phrase ("more or less", "a foot or so"). */
const SHORTEST_WAY = 3;
/** Talk with more "or" than this is thinking aloud, not a choice. */
const MOST_WAYS = 4;
/** A way out is said in a few words; a longer stretch is cut to its last ones, where the choice stands. */
const LONGEST_WAY = 18;

/**
 * The ways out that a note offers, in the mentor's words: what stands between "either" and "or", "or" and "or", where
 * the talk says that a choice is meant. Empty where one way only is offered.
 */
export function findOptions(talk: Talk, evidence: Evidence, language: Language): string[] {
  const words = frameWordsOf(language);
  let best: string[] = [];
  evidence.statements.forEach((statement, i) => {
    const range = evidence.ranges[i];
    if (!range || statement.role !== 'fix') return;
    const choices = evidence.hits.filter(
      (hit) => hit.lexicon === 'options' && hit.first >= range.first && hit.last <= range.last,
    );
    if (choices.length === 0) return;
    // The choice may run on into the next statements of the note.
    const following = evidence.ranges
      .slice(i, i + 3)
      .filter((_, k) => evidence.statements[i + k]?.role === 'fix');
    const last = following.at(-1)?.last ?? range.last;
    const ways: string[] = [];
    let from = range.first;
    const either = choices.find((hit) => hit.means === 'either');
    if (either) from = either.last + 1;
    const close = (to: number): void => {
      if (to - from + 1 >= SHORTEST_WAY) ways.push(textOf(talk, Math.max(from, to - LONGEST_WAY + 1), to));
    };
    let dropped = false;
    for (let at = from; at <= last; at++) {
      if (!words.choice.has(talk.tokens[at]?.form ?? '')) continue;
      const numeric =
        language.numbers.at(talk.tokens, at + 1) !== null &&
        language.numbers.at(talk.tokens, at - 1) !== null;
      if (numeric || words.vague.has(talk.tokens[at + 1]?.form ?? '')) continue;
      if (at - from < SHORTEST_WAY && ways.length > 0) dropped = true;
      close(at - 1);
      from = at + 1;
    }
    if (ways.length > 0 && !dropped) close(Math.min(last, sentenceEnd(talk, from, last)));
    if (ways.length > best.length) best = ways;
  });
  return best.length >= 2 && best.length <= MOST_WAYS ? best : [];
}

function sentenceEnd(talk: Talk, from: number, last: number): number {
  for (let i = from; i < last; i++)
    if (talk.tokens[i]?.stop === '.' || talk.tokens[i]?.stop === '?') return i;
  return last;
}

function textOf(talk: Talk, first: number, last: number): string {
  const [from, to] = [talk.tokens[first]?.word ?? 0, talk.tokens[last]?.word ?? 0];
  return talk.words
    .slice(from, to + 1)
    .map((word) => word.text)
    .join(' ')
    .replace(/[\s,;:.!?…—–-]+$/u, '');
}
