import type { Meaning, ShotRange, Shows } from './meaning.ts';
import type { TrackedLook } from './track.ts';

/** The frame of the shot for which a counter shows 0. */
const ZERO_OF: Readonly<Partial<Record<Shows, (shot: ShotRange) => number>>> = {
  frames: () => 0,
  'from one': ({ first }) => first - 1,
  'from zero': ({ first }) => first,
};
const PLAIN: readonly Shows[] = ['frames', 'from one', 'from zero'];

export interface SettledCounter {
  readonly meaning: Meaning;
  readonly looks: readonly TrackedLook[];
  /** What else the numbers may be: nothing that was shown tells them apart. */
  readonly orElse: readonly Shows[];
}

/**
 * Counting from 1 and from 0 differ in the shot's ends alone, and single misreadings must not decide: so the numbers that
 * the counter was found to have gone through are laid within the shot once more.
 * @returns the meaning under which the fewest looks lie outside the shot (the same one where others are no better), the
 *   looks with the frames it gives them, and the other meanings that would fit as well
 */
export function settleMeaning(
  looks: readonly TrackedLook[],
  meaning: Meaning,
  shot: ShotRange,
): SettledCounter {
  const zero = ZERO_OF[meaning.shows]?.(shot);
  if (zero === undefined) return { meaning, looks, orElse: [] };
  const ways = PLAIN.map((shows) => {
    const shift = (ZERO_OF[shows]?.(shot) ?? zero) - zero;
    const moved = looks.map((look) => ({ ...look, frame: look.frame + shift }));
    return { shows, shift, looks: moved, outside: outside(moved, shot) };
  });
  let best = ways.find(({ shows }) => shows === meaning.shows);
  for (const way of ways) if (best && way.outside < best.outside) best = way;
  if (!best) return { meaning, looks, orElse: [] };
  const { outside: least, shift: taken } = best;
  const others = ways.filter((way) => way.outside === least && way.shift !== taken);
  return {
    meaning: { ...meaning, shows: best.shows },
    looks: best.looks,
    orElse: others.map(({ shows }) => shows),
  };
}

function outside(looks: readonly TrackedLook[], { first, last }: ShotRange): number {
  return looks.filter(({ frame }) => frame < first || (last !== null && frame > last)).length;
}
