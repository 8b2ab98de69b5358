import { Polyphase } from './polyphase.ts';
import { SAMPLE_RATE } from './recording.ts';

/**
 * Shares of half the lower rate. At 16 kHz: untouched up to 6.8 kHz, where speech ends, nothing left to fold back from
 * 8.8 kHz on. A narrower gap would cost time in proportion and no recogniser would notice.
 */
const PASS_SHARE = 0.85;
const STOP_SHARE = 1.1;

/**
 * Brings sound to SAMPLE_RATE, piece by piece, without delay. Rates of four times SAMPLE_RATE and more are halved first: a short filter
 * does that, since only what would fold into the heard band must go, and the long filter then has half the work.
 */
export class Resampler {
  readonly #fromHz: number;
  readonly #stages: Polyphase[] = [];
  #taken = 0;
  #given = 0;

  /** @param fromHz samples a second of what will be pushed, a whole number */
  constructor(fromHz: number) {
    this.#fromHz = fromHz;
    let rate = fromHz;
    for (; rate >= 4 * SAMPLE_RATE && rate % 2 === 0; rate /= 2) {
      const passHz = SAMPLE_RATE / 2;
      this.#stages.push(new Polyphase(rate, rate / 2, { passHz, stopHz: rate / 2 - passHz }));
    }
    const nyquistHz = Math.min(rate, SAMPLE_RATE) / 2;
    if (rate !== SAMPLE_RATE) {
      const band = { passHz: PASS_SHARE * nyquistHz, stopHz: STOP_SHARE * nyquistHz };
      this.#stages.push(new Polyphase(rate, SAMPLE_RATE, band));
    }
  }

  /** Takes the next samples and gives what they settle; the rest comes with later pieces or with `finish`. */
  push(samples: Float32Array): Float32Array {
    this.#taken += samples.length;
    const out = this.#stages.reduce((piece, stage) => stage.push(piece), samples);
    this.#given += out.length;
    return out;
  }

  /** Gives the rest, so that exactly `resampledLength` samples have come out in all. */
  finish(): Float32Array {
    let out: Float32Array = new Float32Array(0);
    for (const stage of this.#stages) {
      const piece = new Float32Array(out.length + stage.tailSamples);
      piece.set(out);
      out = stage.push(piece);
    }
    const missing = resampledLength(this.#taken, this.#fromHz) - this.#given;
    this.#given += missing;
    const rest = new Float32Array(missing);
    rest.set(out.subarray(0, missing));
    return rest;
  }
}

/** How many samples at SAMPLE_RATE stand for `samples` at `fromHz`. */
export function resampledLength(samples: number, fromHz: number): number {
  return Math.round((samples * SAMPLE_RATE) / fromHz);
}
