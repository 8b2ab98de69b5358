import { SAMPLE_RATE } from './recording.ts';

/** A minute: small enough that the last, half filled block costs little. */
const BLOCK_SAMPLES = 60 * SAMPLE_RATE;

/** A guess that was this much too long, or less, is not worth a copy. */
const SLACK_SAMPLES = 2 * SAMPLE_RATE;
/** Longer lengths (half a day) come from damaged headers. */
const MOST_EXPECTED_SAMPLES = 12 * 3600 * SAMPLE_RATE;

/**
 * Gathers decoded samples of a length that may not be known beforehand. A decoder that knows its length, or can guess
 * it to a second, names it: then memory is the samples alone, and nothing is copied at the end.
 */
export class SampleStore {
  #blocks: Float32Array[] = [];
  #blockSamples: number;
  /** Samples used in the last block. */
  #used = 0;
  #length = 0;

  /** @param expectedSamples the length, or a little more, where it is known */
  constructor(expectedSamples?: number) {
    const usable =
      expectedSamples !== undefined && expectedSamples > 0 && expectedSamples <= MOST_EXPECTED_SAMPLES;
    this.#blockSamples = usable ? expectedSamples : BLOCK_SAMPLES;
  }

  get length(): number {
    return this.#length;
  }

  append(samples: Float32Array): void {
    let from = 0;
    while (from < samples.length) {
      let block = this.#blocks.at(-1);
      if (block === undefined || this.#used === block.length) {
        block = new Float32Array(this.#blockSamples);
        this.#blockSamples = BLOCK_SAMPLES;
        this.#blocks.push(block);
        this.#used = 0;
      }
      const piece = samples.subarray(from, from + block.length - this.#used);
      block.set(piece, this.#used);
      this.#used += piece.length;
      from += piece.length;
    }
    this.#length += samples.length;
  }

  /** Gives all samples in one array and empties the store, block by block so that none is held twice for long. */
  take(): Float32Array {
    const only = this.#blocks.length === 1 ? this.#blocks[0] : undefined;
    if (only && only.length - this.#length <= SLACK_SAMPLES) {
      this.#blocks = [];
      return only.subarray(0, this.#length);
    }
    const all = new Float32Array(this.#length);
    for (let at = 0, block = this.#blocks.shift(); block; block = this.#blocks.shift()) {
      all.set(block.subarray(0, all.length - at), at);
      at += block.length;
    }
    return all;
  }
}
