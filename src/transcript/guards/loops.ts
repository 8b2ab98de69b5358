import { deflateSync } from 'node:zlib';

/** A run of words said over and over: `length` words from `start`, `repeats` times in all. */
export interface Loop {
  readonly start: number;
  readonly length: number;
  readonly repeats: number;
}

const LONGEST_CYCLE = 12;
/** Text that shrinks by more than this says the same thing again and again (openai/whisper's limit). */
const COMPRESSION_LIMIT = 2.4;
/** A shorter text does not shrink whatever it says. */
const COMPRESSION_LEAST = 80;

/** How often a person would still say it: "no, no, no, no" is speech, nine times in a row is not. */
function repeatsOfALoop(length: number): number {
  if (length === 1) return 8;
  return length <= 3 ? 5 : 4;
}

/**
 * The first loop in a list of words, or null. A recogniser that has lost the sound repeats itself until it is stopped.
 * Case and punctuation make no difference.
 */
export function findLoop(words: readonly string[]): Loop | null {
  const plain = words.map((word) => word.toLowerCase().replace(/[^\p{L}\p{N}]/gu, ''));
  for (let start = 0; start < plain.length; start++) {
    for (let length = 1; length <= LONGEST_CYCLE; length++) {
      let same = 0;
      while (start + length + same < plain.length && plain[start + same] === plain[start + length + same])
        same++;
      const repeats = 1 + Math.floor(same / length);
      if (repeats >= repeatsOfALoop(length)) return { start, length, repeats };
    }
  }
  return null;
}

/** Takes the repeats of every loop out of a list and leaves the first time each was said. */
export function cutLoops<T extends { readonly text: string }>(words: readonly T[]): T[] {
  let kept = [...words];
  for (
    let loop = findLoop(kept.map((word) => word.text));
    loop;
    loop = findLoop(kept.map((word) => word.text))
  ) {
    const { start, length, repeats } = loop;
    kept = [...kept.slice(0, start + length), ...kept.slice(start + length * repeats)];
  }
  return kept;
}

/** How many times smaller a text gets when it is compressed. */
export function compressionRatio(text: string): number {
  const bytes = Buffer.from(text);
  return bytes.length === 0 ? 1 : bytes.length / deflateSync(bytes).length;
}

/** Whether a text looks like that of a recogniser that repeats itself. */
export function isLooping(words: readonly string[]): boolean {
  if (findLoop(words)) return true;
  const text = words.join(' ');
  return text.length >= COMPRESSION_LEAST && compressionRatio(text) > COMPRESSION_LIMIT;
}
