import FFT from 'fft.js';

/**
 * Discrete Fourier transforms of one length, a power of two. Complex numbers lie side by side, real before imaginary.
 * The inverse divides by the length.
 */
export class Fourier {
  readonly size: number;
  readonly #transform: FFT;

  /** @param size a power of two, at least 2 */
  constructor(size: number) {
    this.size = size;
    this.#transform = new FFT(size);
  }

  /** Room for `size` complex numbers. */
  complexArray(): Float64Array {
    return new Float64Array(2 * this.size);
  }

  /** Of `size` real numbers; only the first `size` / 2 + 1 bins of `spectrum` are filled: the others mirror them. */
  forwardReal(spectrum: Float64Array, values: Float64Array): void {
    this.#transform.realTransform(spectrum, values);
  }

  /** Of `size` complex numbers. */
  forward(spectrum: Float64Array, values: Float64Array): void {
    this.#transform.transform(spectrum, values);
  }

  /** Of all `size` bins. */
  inverse(values: Float64Array, spectrum: Float64Array): void {
    this.#transform.inverseTransform(values, spectrum);
  }

  /** Of real numbers' first `size` / 2 + 1 bins; the mirrored ones are filled in. */
  inverseReal(values: Float64Array, spectrum: Float64Array): void {
    this.#transform.completeSpectrum(spectrum);
    this.#transform.inverseTransform(values, spectrum);
  }
}

/** The least power of two that is not below `length`. */
export function powerOfTwo(length: number): number {
  return 2 ** Math.ceil(Math.log2(Math.max(2, length)));
}
