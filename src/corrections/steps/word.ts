import type { Word } from '../../transcript/transcript.ts';
import { textOf, wordsWithin } from '../../transcript/words-within.ts';
import type { Reading } from '../correctable.ts';
import type { Decision } from '../corrections.ts';

type WordStep = Extract<Decision, { do: 'word' }>;

/** The place of the word that a decision is about; null where the recording has none there, or another was heard. */
export function findWord(words: readonly Word[], { word, text }: WordStep): number | null {
  const range = wordsWithin(words, { start: word.start - 0.05, end: word.end + 0.05 });
  if (!range) return null;
  const middle = (word.start + word.end) / 2;
  const off = (at: number): number => {
    const { start = 0, end = 0 } = words[at] ?? {};
    return Math.abs((start + end) / 2 - middle);
  };
  let nearest = range.first;
  for (let at = range.first; at <= range.last; at++) if (off(at) < off(nearest)) nearest = at;
  const heard = bare(words[nearest]?.text ?? '');
  return heard === bare(word.text) || heard === bare(text) ? nearest : null;
}

/** Words are the same whatever marks stand about them. */
function bare(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
}

/** A word as a person says it was spoken; what was heard is kept beside it. */
export function mended(word: Word, text: string): Word {
  const before = typeof word.heard === 'string' ? { heard: word.heard } : {};
  return { ...word, text, confidence: 1, heard: { text: word.text, confidence: word.confidence, ...before } };
}

/** Puts another word in a place, and into every text that quotes it. */
export function replaceWord(reading: Reading, at: number, word: Word): void {
  const before = reading.words;
  const old = before[at];
  if (!old) return;
  const after = before.with(at, word);
  reading.words = after;
  const middle = (old.start + old.end) / 2;
  const requoted = <T extends { start: number; end: number; text: string }>(quote: T): T => {
    if (middle < quote.start || middle > quote.end) return quote;
    const range = wordsWithin(before, quote);
    // A text that is not word for word what was heard is mended where the word stands in it first.
    const isVerbatim = range !== null && textOf(before, range) === quote.text.replace(/\s+/g, ' ').trim();
    const text = isVerbatim ? textOf(after, range) : quote.text.replace(old.text, () => word.text);
    return { ...quote, text };
  };
  reading.statements = reading.statements.map(requoted);
  reading.notes = reading.notes.map((note) => ({ ...note, spans: note.spans.map(requoted) }));
}

/** Takes back every mending that a sheet came with, so that the decisions alone say which words are mended. */
export function forgetMendings(reading: Reading): void {
  reading.words.forEach((word, at) => {
    const heard = heardWord(word);
    if (heard) replaceWord(reading, at, heard);
  });
}

/** A mended word as it was heard; null for one that no person mended. */
function heardWord({ heard, ...word }: Word): Word | null {
  if (typeof heard !== 'object' || heard === null || !('text' in heard && 'confidence' in heard)) return null;
  const { text, confidence } = heard;
  if (typeof text !== 'string' || typeof confidence !== 'number') return null;
  const before = 'heard' in heard && typeof heard.heard === 'string' ? { heard: heard.heard } : {};
  return { ...word, text, confidence, ...before };
}
