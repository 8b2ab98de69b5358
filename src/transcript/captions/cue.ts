import type { Span } from '../../basics/span.ts';

/** One caption: what is said between two moments, as plain text. */
export interface Cue extends Span {
  readonly text: string;
}

/** What a caption file holds, and what in it could not be read, each as half a sentence with its line. */
export interface CueList {
  readonly cues: readonly Cue[];
  readonly faults: readonly string[];
}
