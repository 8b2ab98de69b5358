import { stemOf, type Token } from './tokens.ts';

/**
 * A phrase as lexicons write it, compiled. The signs, which the lexicons' guide explains to animators:
 * `word` any form of the word · `=word` this form only · `wor*` begins so · `a|b` either · `word?` may be missing ·
 * `#` a number · `*` any word · `...` up to four words in between, within the sentence.
 */
export interface Phrase {
  readonly elements: readonly Element[];
  readonly source: string;
}

type Test =
  | { readonly kind: 'stem'; readonly value: string }
  | { readonly kind: 'form'; readonly value: string }
  | { readonly kind: 'prefix'; readonly value: string }
  | { readonly kind: 'number' }
  | { readonly kind: 'any' };

interface Element {
  readonly tests: readonly Test[];
  readonly optional: boolean;
  /** How many words may stand before this element without being part of it. */
  readonly gap: number;
}

const LONGEST_GAP = 4;

/** Which words count as numbers in a `#` place is the caller's to say, since number words are lexicon data. */
export type IsNumber = (form: string) => boolean;

function compileTest(text: string): Test {
  if (text === '#') return { kind: 'number' };
  if (text === '*') return { kind: 'any' };
  const clean = text.replace(/['’]/g, '').toLowerCase();
  if (clean.startsWith('=')) return { kind: 'form', value: clean.slice(1) };
  if (clean.endsWith('*')) return { kind: 'prefix', value: clean.slice(0, -1) };
  return { kind: 'stem', value: stemOf(clean) };
}

/** Compiles a phrase. Throws a RangeError that says what is wrong where the phrase has no word to look for. */
export function compilePhrase(source: string): Phrase {
  const elements: Element[] = [];
  let gap = 0;
  for (const part of source.trim().replace(/-/g, ' ').split(/\s+/)) {
    if (part === '...') {
      gap = LONGEST_GAP;
      continue;
    }
    const optional = part.endsWith('?');
    const tests = (optional ? part.slice(0, -1) : part).split('|').map(compileTest);
    if (tests.some((test) => 'value' in test && test.value === '')) {
      throw new RangeError(`"${source}" has an empty word`);
    }
    elements.push({ tests, optional, gap });
    gap = 0;
  }
  const [head] = elements.filter((element) => !element.optional);
  if (!head || head.tests.some((test) => test.kind === 'any')) {
    throw new RangeError(`"${source}" must begin with a word to look for`);
  }
  return { elements, source };
}

function passes(test: Test, token: Token, isNumber: IsNumber): boolean {
  switch (test.kind) {
    case 'any':
      return true;
    case 'number':
      return isNumber(token.form);
    case 'form':
      return token.form === test.value;
    case 'prefix':
      return token.form.startsWith(test.value);
    case 'stem':
      return token.stem === test.value;
  }
}

function endsSentence(token: Token | undefined): boolean {
  return token?.stop === '.' || token?.stop === '?';
}

/** The index of the last token of a match that begins at `from`, or -1. The longest way is taken for optional words. */
export function matchAt(phrase: Phrase, tokens: readonly Token[], from: number, isNumber: IsNumber): number {
  return walk(phrase, 0, tokens, from, isNumber);
}

/** The last token of a match of a phrase's elements from one on, at a token; -1 where they do not stand there. */
function walk(
  phrase: Phrase,
  element: number,
  tokens: readonly Token[],
  at: number,
  isNumber: IsNumber,
): number {
  const wanted = phrase.elements[element];
  if (!wanted) return at - 1;
  for (let skip = 0; skip <= wanted.gap; skip++) {
    const token = tokens[at + skip];
    if (!token || (skip > 0 && endsSentence(tokens[at + skip - 1]))) break;
    if (wanted.tests.some((test) => passes(test, token, isNumber))) {
      const end = walk(phrase, element + 1, tokens, at + skip + 1, isNumber);
      if (end >= 0) return end;
    }
  }
  return wanted.optional ? walk(phrase, element + 1, tokens, at, isNumber) : -1;
}

/** What a match can begin with, for an index: the tests of the first word that cannot be missing and of those before it. */
export function firstTests(phrase: Phrase): readonly Test[] {
  const needed = phrase.elements.findIndex((element) => !element.optional);
  return phrase.elements.slice(0, needed + 1).flatMap((element) => element.tests);
}
