/** How a heard list differs from the true one, counted as sclite of NIST counts. */
export interface ErrorCount {
  readonly substitutions: number;
  readonly deletions: number;
  readonly insertions: number;
  /** Length of the true list. */
  readonly length: number;
}

/** A place in the true list and the place in the heard list that was lined up with it; null where there is none. */
export interface Match {
  readonly truth: number | null;
  readonly heard: number | null;
}

const SUBSTITUTION = 4;
const GAP = 3;

/**
 * Lines two lists up with the cheapest changes (Levenshtein's table, 1966). A substitution costs 4 and a deletion or an
 * insertion 3, as in NIST's sclite (from memory): of line-ups with equally many errors the one with more words right wins.
 */
export function lineUp(truth: readonly string[], heard: readonly string[]): Match[] {
  const width = heard.length + 1;
  const cost = new Float64Array((truth.length + 1) * width);
  const at = (i: number, j: number): number =>
    i < 0 || j < 0 ? Number.POSITIVE_INFINITY : (cost[i * width + j] ?? 0);
  const paired = (i: number, j: number): number =>
    at(i - 1, j - 1) + (truth[i - 1] === heard[j - 1] ? 0 : SUBSTITUTION);
  for (let i = 0; i <= truth.length; i++) {
    for (let j = 0; j <= heard.length; j++) {
      if (i + j > 0) cost[i * width + j] = Math.min(paired(i, j), at(i - 1, j) + GAP, at(i, j - 1) + GAP);
    }
  }
  const matches: Match[] = [];
  for (let i = truth.length, j = heard.length; i > 0 || j > 0; ) {
    const here = at(i, j);
    if (i > 0 && j > 0 && here === paired(i, j)) matches.push({ truth: --i, heard: --j });
    else if (i > 0 && here === at(i - 1, j) + GAP) matches.push({ truth: --i, heard: null });
    else matches.push({ truth: null, heard: --j });
  }
  return matches.reverse();
}

/** Counts the errors of a heard list. */
export function countErrors(truth: readonly string[], heard: readonly string[]): ErrorCount {
  const matches = lineUp(truth, heard);
  const both = matches.flatMap((match) =>
    match.truth !== null && match.heard !== null ? [[truth[match.truth], heard[match.heard]]] : [],
  );
  return {
    substitutions: both.filter(([a, b]) => a !== b).length,
    deletions: matches.filter((match) => match.heard === null).length,
    insertions: matches.filter((match) => match.truth === null).length,
    length: truth.length,
  };
}

/** Errors of several lists together. */
export function addErrors(counts: readonly ErrorCount[]): ErrorCount {
  const sum = (key: keyof ErrorCount) => counts.reduce((total, count) => total + count[key], 0);
  return {
    substitutions: sum('substitutions'),
    deletions: sum('deletions'),
    insertions: sum('insertions'),
    length: sum('length'),
  };
}

/** The word error rate: all errors by the number of true words. It can pass 1. */
export function wordErrorRate({ substitutions, deletions, insertions, length }: ErrorCount): number {
  return (substitutions + deletions + insertions) / Math.max(1, length);
}
