import { overlapSeconds, type Span } from './span.ts';

/** Seconds that two lists of spans share; spans of one list are taken not to overlap. */
export function sharedSeconds(a: readonly Span[], b: readonly Span[]): number {
  return a.reduce((sum, one) => sum + b.reduce((more, other) => more + overlapSeconds(one, other), 0), 0);
}
