/** A rising curve as pairs of score and share right, in the order of scores. */
export type Curve = [score: number, share: number][];

/** Each end of the curve is drawn towards the overall share as if by so many more claims: few claims prove little. */
const PRIOR_CLAIMS = 4;

/**
 * The rising curve closest to what came true, by pooling adjacent violators (Ayer and others, 1955). Equal scores are
 * pooled first: a rule that always gives one score must get one answer.
 */
export function isotonic(claims: readonly { readonly score: number; readonly right: boolean }[]): Curve {
  if (claims.length === 0) return [];
  const overall = claims.filter((claim) => claim.right).length / claims.length;
  const byScore = new Map<number, { right: number; count: number }>();
  for (const { score, right } of claims) {
    const at = Math.round(score * 100) / 100;
    const there = byScore.get(at) ?? { right: 0, count: 0 };
    byScore.set(at, { right: there.right + (right ? 1 : 0), count: there.count + 1 });
  }
  const blocks: { scores: number[]; right: number; count: number }[] = [];
  for (const [score, { right, count }] of [...byScore].sort((a, b) => a[0] - b[0])) {
    blocks.push({ scores: [score], right, count });
    for (
      let last = blocks.at(-1), before = blocks.at(-2);
      last && before;
      last = blocks.at(-1), before = blocks.at(-2)
    ) {
      if (before.right / before.count < last.right / last.count) break;
      blocks.splice(-2, 2, {
        scores: [...before.scores, ...last.scores],
        right: before.right + last.right,
        count: before.count + last.count,
      });
    }
  }
  let least = 0;
  return blocks.flatMap(({ scores, right, count }): Curve => {
    const drawn = Math.round(((right + PRIOR_CLAIMS * overall) / (count + PRIOR_CLAIMS)) * 1000) / 1000;
    // Drawing small blocks towards the whole may bend the curve back; it must rise.
    least = Math.max(least, drawn);
    const share = least;
    const [first = 0, last = first] = [scores[0], scores.at(-1)];
    return first === last
      ? [[first, share]]
      : [
          [first, share],
          [last, share],
        ];
  });
}
