import type { Hit } from './propose.ts';

/** Hits that agree on where the shot's first sample would lie in the recording: one play of the shot, perhaps. */
export interface Guess {
  /** Sample of the recording, at the search rate, at which the shot's first sample lies or would lie. */
  readonly offset: number;
  /** Samples of the shot's sound over which hits were found. */
  readonly from: number;
  readonly to: number;
  /** Sum of the squared heights over the shot, each part counted once by its best hit. */
  readonly score: number;
}

/**
 * Puts hits of one speed into guesses, the strongest first. A hit belongs to one guess.
 * @param tolerance samples that offsets of one play may lie apart
 */
export function groupHits(hits: readonly Hit[], tolerance: number): Guess[] {
  const sorted = [...hits].sort((a, b) => a.offset - b.offset);
  const order = sorted.map((_, i) => i).sort((a, b) => (sorted[b]?.height ?? 0) - (sorted[a]?.height ?? 0));
  const used = new Uint8Array(sorted.length);
  const guesses: Guess[] = [];
  for (const index of order) {
    const peak = sorted[index];
    if (used[index] || !peak) continue;
    const members: Hit[] = [];
    const near = (i: number) => Math.abs((sorted[i]?.offset ?? Infinity) - peak.offset) <= tolerance;
    const take = (i: number) => {
      const hit = sorted[i];
      if (used[i] || !hit) return;
      used[i] = 1;
      members.push(hit);
    };
    for (let i = index; i >= 0 && near(i); i--) take(i);
    for (let i = index + 1; i < sorted.length && near(i); i++) take(i);
    guesses.push(guessOf(peak.offset, members));
  }
  return guesses.sort((a, b) => b.score - a.score);
}

/** Round the strongest hit, others follow it with no more between them than this share of its length. */
const MOST_GAP = 1;

/** The strongest hit, and those that go on from it; each part of the shot counts once, by its best hit. */
function guessOf(offset: number, members: Hit[]): Guess {
  const counted: Hit[] = [];
  for (const hit of members.sort((a, b) => b.height - a.height)) {
    if (counted.every(({ from, to }) => hit.to <= from || hit.from >= to)) counted.push(hit);
  }
  let { from, to } = counted[0] ?? { from: 0, to: 0 };
  let score = 0;
  const gap = MOST_GAP * (to - from);
  for (const hit of counted) {
    if (hit.to < from - gap || hit.from > to + gap) continue;
    [from, to] = [Math.min(from, hit.from), Math.max(to, hit.to)];
    score += hit.height ** 2;
  }
  return { offset, from, to, score };
}
