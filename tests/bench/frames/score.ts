import type { Pass } from '../../../src/basics/pass.ts';
import type { TruePass } from './mix.ts';

export interface Pair {
  readonly truth: TruePass;
  readonly found: Pass;
}

export interface Matched {
  readonly pairs: readonly Pair[];
  readonly missed: readonly TruePass[];
  readonly invented: readonly Pass[];
}

/** The frame a line of a pass gives for a moment of the recording. */
export function frameAt(
  pass: { start: number; end: number; first: number; last: number },
  seconds: number,
): number {
  return pass.first + ((seconds - pass.start) / (pass.end - pass.start || 1)) * (pass.last - pass.first);
}

/**
 * Pairs each true pass with the found one that shares most time with it, at least half of the shorter, and gives the same frame within two
 * at the middle of what they share.
 */
export function matchPasses(truths: readonly TruePass[], found: readonly Pass[]): Matched {
  const left = new Set(found);
  const pairs: Pair[] = [];
  const missed: TruePass[] = [];
  for (const truth of truths) {
    let best: Pass | undefined;
    let most = 0;
    for (const pass of left) {
      const from = Math.max(truth.start, pass.start);
      const to = Math.min(truth.end, pass.end);
      const shared = to - from;
      if (shared < 0.5 * Math.min(truth.end - truth.start, pass.end - pass.start) || shared <= most) continue;
      if (Math.abs(frameAt(truth, (from + to) / 2) - frameAt(pass, (from + to) / 2)) > 2) continue;
      [best, most] = [pass, shared];
    }
    if (best) {
      left.delete(best);
      pairs.push({ truth, found: best });
    } else missed.push(truth);
  }
  return { pairs, missed, invented: [...left] };
}

export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}
