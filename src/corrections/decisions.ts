import type { Decision } from './corrections.ts';

/** The decisions that stand: those that were undone are left out, and an undoing that was itself undone counts for nothing. */
export function standing(decisions: readonly Decision[]): Decision[] {
  const undone = new Set<string>();
  for (const decision of [...decisions].reverse()) {
    if (decision.do === 'undo' && !undone.has(decision.id)) undone.add(decision.decision);
  }
  return decisions.filter((decision) => decision.do !== 'undo' && !undone.has(decision.id));
}

/** Adds decisions to a list, in order, each once: of two pages that were open at once, neither loses its work. */
export function mergeDecisions(kept: readonly Decision[], added: readonly Decision[]): Decision[] {
  const known = new Set(kept.map(({ id }) => id));
  const merged = [...kept];
  for (const decision of added) {
    if (known.has(decision.id)) continue;
    known.add(decision.id);
    merged.push(decision);
  }
  return merged;
}
