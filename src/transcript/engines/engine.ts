import type { ModelRef } from '../transcript.ts';

/** A word as heard in one region; times in seconds from the region's start, `confidence` 0 to 1. */
export interface HeardWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  readonly confidence: number;
  /** What was heard, where this word was put in the place of one that sounds like it. */
  readonly heard?: string | undefined;
}

/** What a recogniser made of one region. */
export interface HeardRegion {
  /** In order of time. */
  readonly words: readonly HeardWord[];
  /** Mean natural logarithm of the tokens' probabilities; 0 is certain. Null where the recogniser does not tell. */
  readonly meanLogProbability: number | null;
  /** Whether it ran on until it was stopped instead of finding an end by itself. */
  readonly unfinished: boolean;
}

/** One speech recogniser, loaded. There is one implementation for each family of models. */
export interface Engine {
  readonly model: ModelRef;
  /**
   * Recognises one stretch of speech.
   *
   * @param samples 16 kHz mono, -1 to 1, best no longer than 15 seconds.
   * @param voice Speech probability for each 512 samples, where known; it sharpens the words' times.
   * @param startSeconds Where in the recording the stretch begins; only a replay needs it.
   */
  recognise(samples: Float32Array, voice?: Float32Array, startSeconds?: number): Promise<HeardRegion>;
  /** Gives the memory back; the engine is of no use afterwards. */
  close(): Promise<void>;
}

/** A region of which nothing was heard. */
export const NOTHING_HEARD: HeardRegion = { words: [], meanLogProbability: null, unfinished: false };
