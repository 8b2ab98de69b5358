import loadPffft from '@echogarden/pffft-wasm/simd';

type Library = Awaited<ReturnType<typeof loadPffft>>;

/** A place in the library's memory that holds one block of sound, or its spectrum. */
export type Held = number;

/**
 * Cyclic correlations of blocks of one size, by PFFFT (J. Pommier, after FFTPACK) compiled to WebAssembly: many times faster than
 * transforms written in JavaScript, in single precision, which noise hides. Its memory is not collected: call `free`.
 */
export class Correlator {
  readonly size: number;
  readonly #library: Library;
  readonly #setup: number;
  readonly #work: Held;
  readonly #result: Held;
  readonly #held: Held[] = [];

  /** @param size of a block: a power of two, at least 32 */
  static async of(size: number): Promise<Correlator> {
    return new Correlator(await loadPffft(), size);
  }

  private constructor(library: Library, size: number) {
    this.size = size;
    this.#library = library;
    this.#setup = library._pffft_new_setup(size, 0);
    if (this.#setup === 0) throw new Error(`no transform of ${size} samples`);
    this.#work = this.room();
    this.#result = this.room();
  }

  /** Room for a spectrum, until `free`. */
  room(): Held {
    const held = this.#library._pffft_aligned_malloc(4 * this.size);
    if (held === 0) throw new Error('no memory is left for a correlation');
    this.#held.push(held);
    return held;
  }

  /** Puts the spectrum of a block there; what the block is short of `size` is silence. */
  hold(at: Held, block: Float32Array): void {
    const memory = this.#library.HEAPF32;
    memory.set(block, at / 4);
    memory.fill(0, at / 4 + block.length, at / 4 + this.size);
    this.#library._pffft_transform(this.#setup, at, at, this.#work, 0);
  }

  /** The spectrum of a block that is looked for in others. */
  holdSought(block: Float32Array): Held {
    const at = this.room();
    this.holdReversed(at, block);
    return at;
  }

  /** The same, in room that is there. */
  holdReversed(at: Held, block: Float32Array): void {
    const memory = this.#library.HEAPF32;
    const first = at / 4;
    memory.fill(0, first, first + this.size);
    for (let i = 0; i < block.length; i++) memory[first + ((this.size - i) % this.size)] = block[i] as number;
    this.#library._pffft_transform(this.#setup, at, at, this.#work, 0);
  }

  /**
   * Sums over i of block[lag + i] * sought[i] for each lag, cyclic, and over the channels.
   * @returns the library's own memory: good until the next call
   */
  correlate(block: readonly Held[], sought: readonly Held[]): Float32Array {
    const library = this.#library;
    library.HEAPF32.fill(0, this.#result / 4, this.#result / 4 + this.size);
    for (let channel = 0; channel < block.length; channel++) {
      const [heard, wanted] = [block[channel] as Held, sought[channel] as Held];
      library._pffft_zconvolve_accumulate(this.#setup, heard, wanted, this.#result, 1 / this.size);
    }
    library._pffft_transform(this.#setup, this.#result, this.#result, this.#work, 1);
    return library.HEAPF32.subarray(this.#result / 4, this.#result / 4 + this.size);
  }

  free(): void {
    for (const held of this.#held.splice(0)) this.#library._pffft_aligned_free(held);
    this.#library._pffft_destroy_setup(this.#setup);
  }
}
