/**
 * A low-pass filter that changes the sampling rate by a fraction, fed piece by piece.
 *
 * The filter is a windowed sinc: h(d) = 2f sinc(2f d) w(d), d in input samples, with a Kaiser window whose length and shape
 * follow from the wanted stop band: A. V. Oppenheim and R. W. Schafer, Discrete-Time Signal Processing, "Design by the
 * Kaiser window method": beta = 0.1102 (A - 8.7), taps = (A - 7.95) / (2.285 * width). Reading it at the output's own
 * moments, one row of coefficients for each phase between two input samples, is J. O. Smith, Digital Audio Resampling.
 * The filter is centred, so there is no delay; each row is scaled to a sum of 1, so that a steady level stays exactly so.
 */
export interface PolyphaseBand {
  /** Kept untouched up to here. */
  readonly passHz: number;
  /** Gone from here on. */
  readonly stopHz: number;
}

/** Stop band in decibels: below the noise of any room. */
const ATTENUATION_DB = 72;

export class Polyphase {
  readonly #step: number;
  readonly #phases: number;
  readonly #half: number;
  readonly #rows: Float64Array;
  /** Input not yet finished with, after `half` - 1 samples of silence that stand before the first. */
  #held: Float64Array;
  #heldLength: number;
  /** Where the next output falls: `#at` is an index of `#held`, `#phase` counts parts of a sample. */
  #at: number;
  #phase = 0;

  constructor(fromHz: number, toHz: number, band: PolyphaseBand) {
    const shared = greatestCommonDivisor(fromHz, toHz);
    this.#phases = toHz / shared;
    this.#step = fromHz / shared;
    const width = (2 * Math.PI * (band.stopHz - band.passHz)) / fromHz;
    // Even, since the sums go four at a time.
    this.#half = 2 * Math.ceil((ATTENUATION_DB - 7.95) / (2.285 * width) / 4);
    this.#rows = filterRows(this.#phases, this.#half, (band.passHz + band.stopHz) / fromHz);
    this.#held = new Float64Array(2 * this.#half);
    this.#heldLength = this.#half - 1;
    this.#at = this.#half - 1;
  }

  /** Silence that must follow the last sample for the filter to have seen all of it. */
  get tailSamples(): number {
    return 2 * this.#half;
  }

  /** Takes the next samples, gives as many at the new rate as they settle. */
  push(samples: Float32Array): Float32Array {
    this.#hold(samples);
    const half = this.#half;
    const span = (this.#heldLength - half - this.#at) * this.#phases - this.#phase;
    const out = new Float32Array(Math.max(0, Math.ceil(span / this.#step)));
    const held = this.#held;
    const rows = this.#rows;
    const taps = 2 * half;
    let at = this.#at;
    let phase = this.#phase;
    for (let k = 0; k < out.length; k++) {
      const x = at - half + 1;
      const row = phase * taps;
      // Four sums at once: the processor need not wait for one addition before it starts the next.
      let a = 0;
      let b = 0;
      let c = 0;
      let d = 0;
      for (let j = 0; j < taps; j += 4) {
        a += (held[x + j] as number) * (rows[row + j] as number);
        b += (held[x + j + 1] as number) * (rows[row + j + 1] as number);
        c += (held[x + j + 2] as number) * (rows[row + j + 2] as number);
        d += (held[x + j + 3] as number) * (rows[row + j + 3] as number);
      }
      out[k] = a + b + c + d;
      phase += this.#step;
      const whole = Math.floor(phase / this.#phases);
      at += whole;
      phase -= whole * this.#phases;
    }
    this.#at = at;
    this.#phase = phase;
    return out;
  }

  /** Drops what no later output needs and puts the new samples behind the rest. */
  #hold(samples: Float32Array): void {
    const done = Math.min(this.#heldLength, this.#at - this.#half + 1);
    this.#held.copyWithin(0, done, this.#heldLength);
    this.#heldLength -= done;
    this.#at -= done;
    const length = this.#heldLength + samples.length;
    if (length > this.#held.length) {
      const wider = new Float64Array(length);
      wider.set(this.#held.subarray(0, this.#heldLength));
      this.#held = wider;
    }
    this.#held.set(samples, this.#heldLength);
    this.#heldLength = length;
  }
}

/** One row of 2 * half coefficients for each phase; `cutoff` is the middle of the transition over half the input rate. */
function filterRows(phases: number, half: number, cutoff: number): Float64Array {
  const beta = 0.1102 * (ATTENUATION_DB - 8.7);
  const taps = 2 * half;
  const rows = new Float64Array(phases * taps);
  for (let phase = 0; phase < phases; phase++) {
    const row = rows.subarray(phase * taps, (phase + 1) * taps);
    let sum = 0;
    for (let j = 0; j < taps; j++) {
      const distance = j - half + 1 - phase / phases;
      const edge = 1 - (distance / half) ** 2;
      const window = edge > 0 ? besselI0(beta * Math.sqrt(edge)) : 0;
      const angle = Math.PI * cutoff * distance;
      const value = window * (angle === 0 ? 1 : Math.sin(angle) / angle);
      row[j] = value;
      sum += value;
    }
    for (let j = 0; j < taps; j++) row[j] = (row[j] as number) / sum;
  }
  return rows;
}

/** The modified Bessel function of the first kind, order 0, by its power series. */
function besselI0(x: number): number {
  let sum = 1;
  for (let k = 1, term = 1; term > sum * 1e-12; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
