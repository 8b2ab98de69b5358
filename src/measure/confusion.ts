import { countOf } from './agreement.ts';
import { NONE, type Pair } from './tally.ts';

/** How often each gold label was given each label: by gold label, then by what was given. */
export type Confusion = Readonly<Record<string, Readonly<Record<string, number>>>>;

/** @param order The labels in the order in which rows and columns stand; one that never occurs is left out. */
export function confusionOf(pairs: readonly Pair[], order: readonly string[]): Confusion {
  const labels = [...order, NONE];
  const rows = labels.flatMap((gold) => {
    const counts = countOf(pairs.filter(([own]) => own === gold).map(([, got]) => got));
    const row = labels.flatMap((got) => (counts.has(got) ? [[got, counts.get(got) ?? 0] as const] : []));
    return row.length === 0 ? [] : [[gold, Object.fromEntries(row)] as const];
  });
  return Object.fromEntries(rows);
}
