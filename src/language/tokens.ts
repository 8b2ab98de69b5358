import stem from 'wink-porter2-stemmer';

/** A spoken word as the recogniser or a caption file gives it; only what the language stages need. */
export interface SpokenWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** One unit of matching. "sixty-seven" is one spoken word and two tokens. */
export interface Token {
  /** Lower case, without apostrophes or punctuation: "I'd" and a captioner's "id" are the same token. */
  readonly form: string;
  /** Its Porter2 stem. */
  readonly stem: string;
  /** Index of the spoken word it is part of. */
  readonly word: number;
  /** The punctuation that closes the token: '', ',' or '.' (which stands for . ? ! and the like; '?' stays itself). */
  readonly stop: '' | ',' | '.' | '?';
  /** Whether it was written with a capital first letter. */
  readonly capital: boolean;
}

const stems = new Map<string, string>();

/** The stem of a word in lower case without punctuation; remembered, since talk repeats itself. */
export function stemOf(form: string): string {
  let found = stems.get(form);
  if (found === undefined) {
    found = stem(form);
    if (stems.size > 50_000) stems.clear();
    stems.set(form, found);
  }
  return found;
}

function stopOf(text: string): Token['stop'] {
  const tail = /[.,;:!?…—–-]+["')\]]*$/.exec(text)?.[0] ?? '';
  if (tail.includes('?')) return '?';
  if (/[.!…]/.test(tail)) return '.';
  return tail === '' ? '' : ',';
}

/** Splits a text into forms: apostrophes vanish, digits keep their points and colons, all else divides. */
export function formsOf(text: string): string[] {
  return (
    text
      .toLowerCase()
      .normalize('NFKC')
      .replace(/['’`]/g, '')
      .replace(/(\d),(?=\d{3}(?!\d))/g, '$1')
      .replace(/(?<=^|\s)\.(?=\d)/g, '0.')
      .match(/\d+(?:[.:;]\d+)*%?|[\p{L}\p{M}]+/gu) ?? []
  );
}

/** Tokens of spoken words, in order. Words without a letter or digit give none. */
export function tokensOf(words: readonly SpokenWord[]): Token[] {
  const tokens: Token[] = [];
  words.forEach((word, index) => {
    const forms = formsOf(word.text);
    const stop = stopOf(word.text);
    const capital = /^["'(]*\p{Lu}/u.test(word.text);
    forms.forEach((form, k) => {
      tokens.push({
        form,
        stem: stemOf(form),
        word: index,
        stop: k === forms.length - 1 ? stop : '',
        capital: capital && k === 0,
      });
    });
  });
  return tokens;
}

/** Tokens of written text, for lexicon tests and dialogue lines. */
export function tokensOfText(text: string): Token[] {
  return tokensOf(
    text
      .split(/\s+/)
      .filter(Boolean)
      .map((word) => ({ text: word, start: 0, end: 0 })),
  );
}
