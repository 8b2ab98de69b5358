import type { Talk, TokenRange } from '../../language/talk.ts';

/** Most words between a number that was said wrong and the right one. */
const LONGEST_SLIP = 14;
/** A mere "no" mends a number only this close to it. */
const LONGEST_DENIAL = 6;

/** Whether a number that was said later puts right the one before it: "82. No, I'm lying, 84", "four frames, no, five". */
export function mends(talk: Talk, wrong: TokenRange, right: TokenRange): boolean {
  const [from, to] = [wrong.last + 1, right.first - 1];
  if (to - from >= LONGEST_SLIP) return false;
  return talk.hits.some(
    (hit) =>
      hit.lexicon === 'repairs' &&
      hit.first >= from &&
      hit.last <= to &&
      (hit.means === 'edit-term' || (hit.means === 'denies' && to - from < LONGEST_DENIAL)),
  );
}
