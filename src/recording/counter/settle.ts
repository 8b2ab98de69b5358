import type { Meaning, ShotRange, Shows } from './meaning.ts';
import type { TrackedLook } from './track.ts';

/** The frame of the shot for which a counter shows 0. */
const ZERO_OF: Readonly<Partial<Record<Shows, (shot: ShotRange) => number>>> = {
  frames: () => 0,
  'from one': ({ first }) => first - 1,
  'from zero': ({ first }) => first,
};
const PLAIN: readonly Shows[] = ['frames', 'from one', 'from zero'];

/**
 * Counting from 1 and from 0 differ in the shot's ends alone, and single misreadings must not decide: so the numbers that
 * the counter was found to have gone through are laid within the shot once more.
 * @returns the meaning under which the fewest looks lie outside the shot (the same one where others are no better), and
 *   the looks with the frames it gives them
 */
export function settleMeaning(
  looks: readonly TrackedLook[],
  meaning: Meaning,
  shot: ShotRange,
): { meaning: Meaning; looks: TrackedLook[] } {
  const zero = ZERO_OF[meaning.shows]?.(shot);
  let best = { meaning, looks: [...looks] };
  if (zero === undefined) return best;
  let least = outside(looks, shot);
  for (const shows of PLAIN) {
    const shift = (ZERO_OF[shows]?.(shot) ?? zero) - zero;
    const moved = looks.map((look) => ({ ...look, frame: look.frame + shift }));
    const left = outside(moved, shot);
    if (left >= least) continue;
    least = left;
    best = { meaning: { ...meaning, shows }, looks: moved };
  }
  return best;
}

function outside(looks: readonly TrackedLook[], { first, last }: ShotRange): number {
  return looks.filter(({ frame }) => frame < first || (last !== null && frame > last)).length;
}
