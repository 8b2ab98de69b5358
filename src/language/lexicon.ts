import { z } from 'zod';
import { compilePhrase, firstTests, type IsNumber, matchAt, type Phrase } from './phrase.ts';
import type { Token } from './tokens.ts';

/** One entry as an animator writes it: phrases that mean the same, and two sentences that test it. */
export const entrySchema = z.strictObject({
  says: z.string().min(1),
  also: z.array(z.string().min(1)).default([]),
  means: z.string().min(1),
  yes: z.string().min(1),
  no: z.string().min(1),
});
export type Entry = z.infer<typeof entrySchema>;

/** What a phrase that must not be understood is given as its meaning: "on the other hand" is no hand. */
export const MEANS_NOTHING = 'nothing';

/** Where a lexicon's phrase stands among the tokens, both ends included. */
export interface Hit {
  readonly lexicon: string;
  readonly means: string;
  readonly phrase: string;
  readonly first: number;
  readonly last: number;
}

interface Indexed {
  readonly phrase: Phrase;
  readonly means: string;
}

const PREFIX_KEY_LENGTH = 2;
/** More words than a long talk has; it bounds the memory of a program that reads many. */
const MOST_REMEMBERED = 20_000;
const NO_PHRASES: readonly Indexed[] = [];
/** All phrases that begin with a number stand in one list. */
const NUMBER_KEY = '#';

/** A named list of entries that can be looked for in talk. */
export class Lexicon {
  readonly name: string;
  readonly entries: readonly Entry[];
  private readonly isNumber: IsNumber;
  /** Phrases by what they can begin with: a stem, a form, the first letters of a prefix, a number. */
  private readonly index = {
    stem: new Map<string, Indexed[]>(),
    form: new Map<string, Indexed[]>(),
    prefix: new Map<string, Indexed[]>(),
    number: new Map<string, Indexed[]>(),
  };
  private readonly remembered = new Map<string, readonly Indexed[]>();

  /** @throws RangeError where a phrase cannot be compiled; the message names the phrase. */
  constructor(name: string, entries: readonly Entry[], isNumber: IsNumber) {
    this.name = name;
    this.entries = entries;
    this.isNumber = isNumber;
    for (const entry of entries) {
      for (const source of [entry.says, ...entry.also]) this.add(compilePhrase(source), entry.means);
    }
  }

  private add(phrase: Phrase, means: string): void {
    for (const test of firstTests(phrase)) {
      if (test.kind === 'any') continue;
      const key =
        test.kind === 'number'
          ? NUMBER_KEY
          : test.kind === 'prefix'
            ? test.value.slice(0, PREFIX_KEY_LENGTH)
            : test.value;
      const there = this.index[test.kind].get(key);
      if (there) there.push({ phrase, means });
      else this.index[test.kind].set(key, [{ phrase, means }]);
    }
  }

  /** The phrases that may begin with a token; talk repeats its words, so that they are remembered. */
  private candidates(token: Token): readonly Indexed[] {
    const known = this.remembered.get(token.form);
    if (known) return known;
    if (this.remembered.size >= MOST_REMEMBERED) this.remembered.clear();
    const found = this.lookUp(token);
    this.remembered.set(token.form, found.length > 0 ? found : NO_PHRASES);
    return found;
  }

  private lookUp(token: Token): Indexed[] {
    const { stem, form, prefix, number } = this.index;
    const lists = [
      stem.get(token.stem),
      form.get(token.form),
      prefix.get(token.form.slice(0, PREFIX_KEY_LENGTH)),
      number.size > 0 && this.isNumber(token.form) ? number.get(NUMBER_KEY) : undefined,
    ];
    return lists.flatMap((list) => list ?? []);
  }

  /**
   * Every place where a phrase stands, in order. A hit inside a longer one is left out, so that a long phrase
   * speaks for its words; of equal hits with one meaning only one is given.
   */
  find(tokens: readonly Token[]): Hit[] {
    const hits: Hit[] = [];
    tokens.forEach((token, first) => {
      const candidates = this.candidates(token);
      if (candidates.length === 0) return;
      const here = new Map<string, Hit>();
      for (const { phrase, means } of candidates) {
        const last = matchAt(phrase, tokens, first, this.isNumber);
        if (last < first) continue;
        const known = here.get(means);
        if (!known || known.last < last) {
          here.set(means, { lexicon: this.name, means, phrase: phrase.source, first, last });
        }
      }
      hits.push(...here.values());
    });
    return hits.filter((hit, i) => hit.means !== MEANS_NOTHING && !insideLonger(hits, i));
  }
}

/** No phrase, with all its gaps, is longer than this many tokens. */
const LONGEST_MATCH = 60;

/** Whether a hit lies inside a longer one. Hits are in the order of their first tokens, so only near ones need a look. */
function insideLonger(hits: readonly Hit[], index: number): boolean {
  const hit = hits[index];
  if (!hit) return false;
  const covers = (other: Hit): boolean =>
    other.first <= hit.first && other.last >= hit.last && other.last - other.first > hit.last - hit.first;
  for (let i = index - 1; i >= 0; i--) {
    const other = hits[i];
    if (!other || hit.first - other.first > LONGEST_MATCH) break;
    if (covers(other)) return true;
  }
  for (let i = index + 1; i < hits.length; i++) {
    const other = hits[i];
    if (!other || other.first > hit.first) break;
    if (covers(other)) return true;
  }
  return false;
}
