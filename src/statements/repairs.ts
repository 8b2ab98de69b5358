import type { Hit } from '../language/lexicon.ts';
import { type Talk, type TokenRange, within } from '../language/talk.ts';
import type { REPAIR_KINDS } from './statement.ts';

/** A stretch of tokens that the speaker took back in speaking, both ends included. */
export interface TokenRepair {
  readonly kind: (typeof REPAIR_KINDS)[number];
  readonly first: number;
  readonly last: number;
}

const LONGEST_REPEAT = 4;
/** How many tokens before and after an edit term ("sorry", "no, wait") its two sides may stand. */
const REACH_BEFORE = 10;
const REACH_AFTER = 8;
/** A number is put right close by, or not at all: talk is full of others. */
const REACH_NUMBER = 4;
/** No correction and what it corrects lie further from the edit term than this, in tokens. */
const REACH_AT_ALL = 80;
/** How far back a word that is denied by name ("not the left") is looked for. */
const REACH_DENIED = 60;

/** Fillers, words said twice, and words put right, in order. Nothing is removed from the talk. */
export function findRepairs(talk: Talk): TokenRepair[] {
  const fillers = talk.hits
    .filter((hit) => hit.lexicon === 'repairs' && hit.means === 'filler')
    .map(({ first, last }): TokenRepair => ({ kind: 'filler', first, last }));
  return [...fillers, ...findRepeats(talk), ...findCorrections(talk)].sort((a, b) => a.first - b.first);
}

function findRepeats({ tokens }: Talk): TokenRepair[] {
  const repeats: TokenRepair[] = [];
  for (let i = 0; i < tokens.length; i++) {
    for (let length = LONGEST_REPEAT; length > 0; length--) {
      const once = tokens.slice(i, i + length);
      const again = tokens.slice(i + length, i + 2 * length);
      if (again.length < length || !once.every((token, k) => token.form === again[k]?.form)) continue;
      // A sentence said twice is emphasis, not a slip of the tongue.
      if (once.some((token) => token.stop === '.' || token.stop === '?')) continue;
      repeats.push({ kind: 'repeat', first: i, last: i + length - 1 });
      i += length - 1;
      break;
    }
  }
  return repeats;
}

interface Replaceable extends TokenRange {
  readonly kind: string;
  readonly means: string;
}

/** What can be put right by saying another of its kind: a side, a body part, a number. */
function replaceable(talk: Talk): Replaceable[] {
  const kinds = talk.hits
    .filter((hit) => hit.lexicon === 'sides' || hit.lexicon === 'parts')
    .map(({ lexicon, means, first, last }) => ({ kind: lexicon, means, first, last }));
  const numbers = talk.numbers.map(({ value, first, last }) => ({
    kind: 'number',
    means: `${value}`,
    first,
    last,
  }));
  return [...kinds, ...numbers].sort((a, b) => a.first - b.first);
}

function findCorrections(talk: Talk): TokenRepair[] {
  const all = replaceable(talk);
  const corrections: TokenRepair[] = [];
  const add = ({ first, last }: { first: number; last: number }): void => {
    corrections.push({ kind: 'correction', first, last });
  };
  for (const edit of talk.hits.filter((hit) => hit.lexicon === 'repairs' && hit.means === 'edit-term')) {
    const items = within(all, { first: edit.first - REACH_AT_ALL, last: edit.last + REACH_AT_ALL });
    for (const denied of deniedAfter(edit, talk, items)) {
      const right = items.find(
        (item) => item.kind === denied.kind && item.first > denied.last && item.means !== denied.means,
      );
      if (!right || right.first - denied.last > REACH_AFTER) continue;
      add(denied);
      for (const item of items) {
        const near = item.last < edit.first && edit.first - item.last <= REACH_DENIED;
        if (near && item.kind === denied.kind && item.means === denied.means) add(item);
      }
    }
    const reach = (item: { kind: string }, usual: number): number =>
      item.kind === 'number' ? REACH_NUMBER : usual;
    const after = items.find(
      (item) => item.first > edit.last && item.first - edit.last <= reach(item, REACH_AFTER),
    );
    const before = items.findLast(
      (item) =>
        item.last < edit.first &&
        edit.first - item.last <= reach(item, REACH_BEFORE) &&
        item.kind === after?.kind,
    );
    if (after && before && after.kind === before.kind && after.means !== before.means) add(before);
  }
  return corrections;
}

/** "sorry, not the left, the right": what stands right after a "not" that belongs to the edit term. */
function deniedAfter(edit: Hit, talk: Talk, items: readonly Replaceable[]) {
  const near = talk.tokens.slice(edit.first, edit.last + 3);
  const at = near.findIndex((token) => token.form === 'not' || token.form === 'no');
  if (at < 0) return [];
  const denies = edit.first + at;
  return items.filter((item) => item.first > denies && item.first <= denies + 3);
}
