import type { Span } from '../../basics/span.ts';
import type { Word } from '../../transcript/transcript.ts';
import { wordsWithin } from '../../transcript/words-within.ts';

/**
 * What the recogniser wrote where other words were put in by their sound, for a stretch of the recording:
 * `"four" was heard as "for"`. Empty where nothing was put in.
 */
export function heardAs(words: readonly Word[], span: Span): string[] {
  const range = wordsWithin(words, span);
  if (!range) return [];
  const told: { text: string; heard: string }[] = [];
  words.slice(range.first, range.last + 1).forEach((word, index, all) => {
    const heard = word.heard;
    if (typeof heard !== 'string') return;
    const last = told.at(-1);
    // Several words in the place of one text share it.
    if (last && all[index - 1]?.heard === heard) last.text += ` ${word.text}`;
    else told.push({ text: word.text, heard });
  });
  return told.map(({ text, heard }) => `"${bare(text)}" was heard as "${bare(heard)}"`);
}

function bare(text: string): string {
  return text.replace(/[.,;:!?]+$/u, '');
}
