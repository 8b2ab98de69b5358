import type { Problem } from '../basics/problem.ts';

/** Samples a second that every stage after this one works with: what the recognisers were trained on. */
export const SAMPLE_RATE = 16000;

/** A recording that was read: one channel of sound at SAMPLE_RATE, -1 to 1, and what was noticed on the way. */
export interface Recording {
  /** The file's name without its folders. */
  readonly file: string;
  /** SHA-256 of the whole file, in hex. */
  readonly sha256: string;
  /** Length in seconds of what could be read. */
  readonly duration: number;
  /** 16 kHz mono. */
  readonly samples: Float32Array;
  readonly problems: readonly Problem[];
}

/** What every slow part of this stage takes: a way to stop it, and where it tells how far it is, 0 to 1. */
export interface Watch {
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((fraction: number) => void) | undefined;
}
