/** A stretch of the recording, in seconds, `start` <= `end`. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Seconds that two spans share; 0 where they do not meet. */
export function overlapSeconds(a: Span, b: Span): number {
  return Math.max(0, Math.min(a.end, b.end) - Math.max(a.start, b.start));
}
