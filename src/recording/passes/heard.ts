import { Polyphase } from '../polyphase.ts';
import { SAMPLE_RATE } from '../recording.ts';
import { HOP_SAMPLES, type Powers, spectraOf, windowsOf } from './frames.ts';

/** The shot's sound as it is heard at one speed, at 16 kHz. */
export class HeardShot {
  /** Shot seconds a recording second: 1, or 0.5 at half speed. */
  readonly speed: number;
  readonly samples: Float32Array;
  readonly windows: number;
  #powers: Powers | undefined;

  constructor(speed: number, samples: Float32Array) {
    this.speed = speed;
    this.samples = samples;
    this.windows = Math.ceil(samples.length / HOP_SAMPLES);
  }

  /** Spectra of windows whose middles are HOP_SAMPLES apart, the first of all on the first sample. */
  spectra(first: number, windows: number): Powers {
    if (this.samples.length > KEPT_SECONDS * SAMPLE_RATE) {
      return spectraOf(this.samples, windows, (k) => (first + k) * HOP_SAMPLES);
    }
    this.#powers ??= spectraOf(this.samples, this.windows, (k) => k * HOP_SAMPLES);
    return windowsOf(this.#powers, first, windows);
  }
}

/** Spectra of longer shots are made anew each time: a minute takes 17 MB. */
const KEPT_SECONDS = 120;

/** The shot's sound twice as long and an octave lower, as players without a stretcher give it at half speed. */
export function atHalfSpeed(shot: Float32Array): Float32Array {
  const nyquistHz = SAMPLE_RATE / 2;
  return resampled(shot, SAMPLE_RATE, 2 * SAMPLE_RATE, { passHz: 0.85 * nyquistHz, stopHz: 1.1 * nyquistHz });
}

/** Samples a second at which pieces of the shot are looked for: clicks of steps and consonants of speech lie above 2 kHz. */
export const SEARCH_RATE = 8000;

const PIECE_SAMPLES = 1 << 16;

function resampled(
  sound: Float32Array,
  fromHz: number,
  toHz: number,
  band: { passHz: number; stopHz: number },
): Float32Array {
  const filter = new Polyphase(fromHz, toHz, band);
  const out = new Float32Array(Math.round((sound.length * toHz) / fromHz));
  let given = 0;
  const give = (piece: Float32Array) => {
    out.set(piece.subarray(0, out.length - given), given);
    given = Math.min(out.length, given + piece.length);
  };
  for (let at = 0; at < sound.length; at += PIECE_SAMPLES)
    give(filter.push(sound.subarray(at, at + PIECE_SAMPLES)));
  give(filter.push(new Float32Array(filter.tailSamples)));
  return out;
}
