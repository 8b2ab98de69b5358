import type { Word } from './transcript.ts';

/** The same word, heard from two sides, may be timed this differently. */
const SAME_SECONDS = 0.4;
const APART_WEIGHT = 4;
/** Words that share this much of the shorter one cannot both have been said by one person. */
const SAME_SHARE = 0.5;

/**
 * Joins the words of two stretches that both heard the sound around a cut.
 *
 * A word that both heard at the same time is the seam: the left side is believed up to it and the right side behind it, since
 * each knows more of what lies on its own side; of several the one nearest the cut is taken. Where the two agree on nothing,
 * each side keeps the words whose middle lies on its side of the cut, and of two that stand for one word, or of one that each
 * side left to the other, the surer one stays.
 *
 * @param before, after Words in order of time, on the recording's time.
 * @param cut Seconds.
 */
export function joinAtCut(
  before: readonly Word[],
  after: readonly Word[],
  cut: number,
): { before: Word[]; after: Word[] } {
  const seam = seamNear(before, after, cut);
  if (seam) return { before: before.slice(0, seam.left + 1), after: after.slice(seam.right + 1) };
  const left = before.filter((word) => middleOf(word) < cut);
  const right = after.filter((word) => middleOf(word) >= cut);
  const [last, first] = [left.at(-1), right[0]];
  if (last && first && overlap(last, first)) {
    if (last.confidence >= first.confidence) right.shift();
    else left.pop();
    return { before: left, after: right };
  }
  const lost = [before[left.length], after[after.length - right.length - 1]].filter(
    (word) => word !== undefined,
  );
  const free = lost.filter((word) => ![last, first].some((kept) => kept && overlap(kept, word)));
  const surest = free.sort((a, b) => b.confidence - a.confidence)[0];
  // Only where both heard something there: alone it is a scrap of a word that the other side has whole.
  if (surest && lost.length === 2 && overlap(lost[0] as Word, lost[1] as Word)) left.push(surest);
  return { before: left, after: right };
}

function seamNear(
  before: readonly Word[],
  after: readonly Word[],
  cut: number,
): { left: number; right: number } | null {
  let best: { left: number; right: number } | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  before.forEach((word, left) => {
    after.forEach((other, right) => {
      const apart = Math.abs(middleOf(word) - middleOf(other));
      if (apart > SAME_SECONDS || plain(word) !== plain(other)) return;
      // Of a word said twice running the right two must be found, so being apart counts more than being far off.
      const away = Math.abs((middleOf(word) + middleOf(other)) / 2 - cut) + APART_WEIGHT * apart;
      if (away < nearest) [best, nearest] = [{ left, right }, away];
    });
  });
  return best;
}

function overlap(a: Word, b: Word): boolean {
  const shared = Math.min(a.end, b.end) - Math.max(a.start, b.start);
  return shared > SAME_SHARE * Math.min(a.end - a.start, b.end - b.start);
}

function middleOf({ start, end }: Word): number {
  return (start + end) / 2;
}

/** Case and punctuation depend on what a side knows of the sentence. */
function plain({ text }: Word): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}
