import type { Span } from '../basics/span.ts';

/**
 * Gives each word of a sentence its part of a stretch of time, by its number of letters, for texts whose words carry no
 * times of their own. The parts follow one another without gaps and fill the stretch.
 *
 * @param text Words parted by white space.
 * @param span Seconds.
 */
export function spreadWords(text: string, span: Span): { text: string; start: number; end: number }[] {
  const words = text.split(/\s+/u).filter((word) => word !== '');
  const letters = words.map((word) => [...word].length);
  const all = letters.reduce((sum, count) => sum + count, 0);
  let before = 0;
  return words.map((word, index) => {
    const place = (count: number) => span.start + ((span.end - span.start) * count) / all;
    const start = place(before);
    before += letters[index] ?? 0;
    return { text: word, start, end: before === all ? span.end : place(before) };
  });
}
