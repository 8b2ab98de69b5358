import type { Hit } from './propose.ts';

/** Hits that agree on where the shot's first sample would lie in the recording: one play of the shot, perhaps. */
export interface Guess {
  /** Sample of the recording, at the search rate, at which the shot's first sample lies or would lie. */
  readonly offset: number;
  /** Samples of the shot's sound from the first hit's piece to the end of the last one's. */
  readonly from: number;
  readonly to: number;
  /** Sum of the squared heights of the best hit of each piece. */
  readonly score: number;
}

/** Clocks of two machines differ by up to about 0.01 %, a room blurs by a millisecond or two. */
const TOLERANCE_SAMPLES = 12;

/**
 * Puts hits of one speed into guesses, the strongest first. A hit belongs to one guess.
 * @param pieceLength samples of a piece
 * @param leastScore guesses below it are chance
 */
export function groupHits(hits: readonly Hit[], pieceLength: number, leastScore: number): Guess[] {
  const sorted = [...hits].sort((a, b) => a.at - a.piece - (b.at - b.piece));
  const offsets = sorted.map((hit) => hit.at - hit.piece);
  const order = sorted.map((_, i) => i).sort((a, b) => (sorted[b]?.height ?? 0) - (sorted[a]?.height ?? 0));
  const used = new Uint8Array(sorted.length);
  const guesses: Guess[] = [];
  for (const index of order) {
    const peak = sorted[index];
    if (used[index] || !peak) continue;
    const offset = peak.at - peak.piece;
    const best = new Map<number, number>();
    const take = (i: number) => {
      const hit = sorted[i];
      if (used[i] || !hit) return;
      used[i] = 1;
      best.set(hit.piece, Math.max(best.get(hit.piece) ?? 0, hit.height));
    };
    for (let i = index; i >= 0 && offset - (offsets[i] ?? 0) <= TOLERANCE_SAMPLES; i--) take(i);
    for (let i = index + 1; i < sorted.length && (offsets[i] ?? 0) - offset <= TOLERANCE_SAMPLES; i++)
      take(i);
    const score = [...best.values()].reduce((sum, height) => sum + height ** 2, 0);
    if (score < leastScore) continue;
    const starts = [...best.keys()];
    guesses.push({ offset, from: Math.min(...starts), to: Math.max(...starts) + pieceLength, score });
  }
  return guesses.sort((a, b) => b.score - a.score);
}
