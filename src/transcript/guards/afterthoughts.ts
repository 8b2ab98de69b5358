/** A word that the recording's end cut off may land just behind it; more than one cannot. */
const MOST_CUT_WORDS = 1;
const TOLERANCE_SECONDS = 0.02;

/**
 * Parts the words of a stretch from those a recogniser made up to go on with the sentence: all that begin in the silence
 * that was put behind the sound, where there are several of them.
 *
 * @param words In order of time.
 * @param seconds Length of the sound itself, without the silence.
 */
export function partAfterthoughts<T extends { readonly start: number }>(
  words: readonly T[],
  seconds: number,
): { said: T[]; invented: T[] } {
  const behind = words.filter((word) => word.start >= seconds - TOLERANCE_SECONDS);
  if (behind.length <= MOST_CUT_WORDS) return { said: [...words], invented: [] };
  return { said: words.filter((word) => !behind.includes(word)), invented: behind };
}
