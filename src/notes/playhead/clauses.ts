import { pauseBefore, type Talk } from '../../language/talk.ts';

/** A silence of so many seconds ends a clause where nothing is punctuated. */
const CLAUSE_PAUSE_SECONDS = 0.35;

/** Whether a clause ends with a token, by its punctuation or the pause after it. */
export function endsClause(talk: Talk, token: number): boolean {
  return talk.tokens[token]?.stop !== '' || pauseBefore(talk, token + 1) >= CLAUSE_PAUSE_SECONDS;
}
