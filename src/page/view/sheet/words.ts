/** The elements of a quotation's words, by their numbers. */
export type WordElements = ReadonlyMap<number, HTMLElement>;

/**
 * Gives every word of a quotation an element of its own, the first time that is needed: an hour's talk has ten thousand
 * words, and nobody plays them all. Null where the quotation is not word for word what was heard.
 */
export function wordElements(quote: HTMLElement): WordElements | null {
  const [first, last] = (quote.dataset.words ?? '').split('-').map(Number);
  if (first === undefined || last === undefined || !quote.dataset.words) return null;
  if (!quote.dataset.cut) {
    const words = (quote.textContent ?? '').split(/\s+/).filter(Boolean);
    if (words.length !== last - first + 1) return null;
    quote.replaceChildren(
      ...words.flatMap((word, i) => {
        const element = document.createElement('span');
        element.dataset.word = String(first + i);
        element.textContent = word;
        return i === 0 ? [element] : [' ', element];
      }),
    );
    quote.dataset.cut = 'yes';
  }
  return new Map(
    [...quote.querySelectorAll<HTMLElement>('[data-word]')].map((word) => [Number(word.dataset.word), word]),
  );
}

/** The word that is being said at a moment, or the last one said before it, among words `first` to `last`. */
export function wordAt(times: readonly number[], first: number, last: number, seconds: number): number {
  let now = first;
  for (let word = first; word <= last && (times[2 * word] ?? 0) <= seconds * 1000; word++) now = word;
  return now;
}
