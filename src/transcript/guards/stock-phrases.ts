/** More than any recogniser is sure: not believed at all. */
const CERTAIN = 1.1;

/**
 * What recognisers that learned from published talk say when they hear a laugh or a noise like a voice, and how sure of every
 * word they must be for it to be believed. Chosen on five minutes of made laughter, of the inventions in five others 14 of 15 are these; the
 * last line was added after an hour of all kinds of noise.
 */
const STOCK: readonly { readonly phrase: RegExp; readonly sure: number }[] = [
  {
    phrase: /^(?:(?:thank you|thanks)(?: (?:so|very) much)?(?: for (?:watching|listening))? ?)+$/,
    sure: 0.6,
  },
  { phrase: /^(?:you|bye|bye bye)$/, sure: 0.6 },
  { phrase: /^(?:so|oh)$/, sure: 0.3 },
  // The credits of captions, of which recognisers are sure.
  {
    phrase:
      /^(?:transcript|(?:transcribed|transcript|subtitled|subtitles|captioned|captions) by)(?: \p{L}+){1,3}$/u,
    sure: CERTAIN,
  },
];

/** Whether all that was heard is a phrase recognisers make up, and they were not sure of it. */
export function isStockPhrase(
  words: readonly { readonly text: string; readonly confidence: number }[],
): boolean {
  const text = words.map((word) => word.text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '')).join(' ');
  const leastSure = Math.min(...words.map(({ confidence }) => confidence));
  return STOCK.some(({ phrase, sure }) => phrase.test(text) && leastSure < sure);
}
