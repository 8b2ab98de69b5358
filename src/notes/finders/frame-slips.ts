import type { Talk } from '../../language/talk.ts';
import type { SaidFrames } from './frames.ts';
import { mends } from './slips.ts';

/** How far on from a count the frame lies that was looked for: "86, 87, there: 88". */
const COUNT_REACH = 6;
/** Leads who say a number again say its last two digits. */
const ENDS = 100;

/**
 * Leaves out the frames that the mentor said on the way to the right ones: those put right in the same breath ("82. No,
 * I'm lying, 84"), and those counted while stepping ("86, 87, there, 88"). `said` is in the order of speech.
 */
export function withoutSlips<T extends SaidFrames>(talk: Talk, said: readonly T[]): T[] {
  const kept: T[] = [];
  said.forEach((here, i) => {
    const next = said[i + 1];
    if (next && mends(talk, here, next)) {
      if (endsAnew(talk, here, next)) kept.push({ ...here, frames: [here.frames[0], next.frames[1]] });
      return;
    }
    const before = said[i - 1];
    // Its own end is what the correction before it gave.
    if (before && mends(talk, before, here) && endsAnew(talk, before, here)) return;
    if (next && counts(said, i)) return;
    if (said.some((other) => shortens(here, other))) return;
    kept.push(here);
  });
  return kept;
}

/** "at seventy-two, a hundred and seventy-two", "1191. Ninety-one.": the end of a number that is said in full as well. */
function shortens(short: SaidFrames, full: SaidFrames): boolean {
  return (
    short.kind === 'single' &&
    full.kind === 'single' &&
    short.said < ENDS &&
    full.said > ENDS &&
    full.said % ENDS === short.said &&
    short.frames[0] !== full.frames[0]
  );
}

/** "from 1 to 12, no, it carries on to 14": the correction is of the end alone. */
function endsAnew(talk: Talk, wrong: SaidFrames, right: SaidFrames): boolean {
  return (
    wrong.kind === 'range' &&
    right.kind === 'single' &&
    right.frames[0] > wrong.frames[0] &&
    talk.hits.some(
      (hit) => hit.lexicon === 'repairs' && hit.means === 'goes-on' && hit.last === right.first - 1,
    )
  );
}

/** Whether frames belong to a count of neighbours, one straight after the other, that leads up to a frame said later. */
function counts(said: readonly SaidFrames[], at: number): boolean {
  const follows = (one: SaidFrames | undefined, other: SaidFrames | undefined): boolean =>
    one !== undefined &&
    other !== undefined &&
    one.kind === 'single' &&
    other.kind === 'single' &&
    other.first === one.last + 1 &&
    other.frames[0] === one.frames[0] + 1;
  let end = at;
  while (follows(said[end], said[end + 1])) end += 1;
  const counted = end > at || follows(said[at - 1], said[at]);
  const found = said[end + 1];
  const last = said[end];
  return (
    counted &&
    found !== undefined &&
    last !== undefined &&
    found.frames[0] >= last.frames[0] - 1 &&
    found.frames[0] - last.frames[0] <= COUNT_REACH
  );
}
