import loadPffft from '@echogarden/pffft-wasm/simd';

type Library = Awaited<ReturnType<typeof loadPffft>>;

/**
 * Transforms of real numbers, one block at a time, by PFFFT (J. Pommier, after FFTPACK) compiled to WebAssembly: single precision, many
 * times faster than JavaScript's. Its memory is not collected: call `free`.
 */
export class BlockTransform {
  readonly size: number;
  readonly #library: Library;
  readonly #setup: number;
  readonly #block: number;
  readonly #work: number;

  /** @param size a power of two, at least 32 */
  static async of(size: number): Promise<BlockTransform> {
    return new BlockTransform(await loadPffft(), size);
  }

  private constructor(library: Library, size: number) {
    this.size = size;
    this.#library = library;
    this.#setup = library._pffft_new_setup(size, 0);
    this.#block = library._pffft_aligned_malloc(4 * size);
    this.#work = library._pffft_aligned_malloc(4 * size);
    if (!this.#setup || !this.#block || !this.#work) throw new Error(`no transform of ${size} samples`);
  }

  /** The block, in the library's own memory: good until another transform or correlator is made. */
  get block(): Float32Array {
    return this.#library.HEAPF32.subarray(this.#block / 4, this.#block / 4 + this.size);
  }

  /** The block becomes its spectrum: the real parts of the first and the last bin, then real and imaginary parts of those between. */
  forward(): void {
    this.#library._pffft_transform_ordered(this.#setup, this.#block, this.#block, this.#work, 0);
  }

  /** The other way round, `size` times as large as before. */
  backward(): void {
    this.#library._pffft_transform_ordered(this.#setup, this.#block, this.#block, this.#work, 1);
  }

  free(): void {
    this.#library._pffft_aligned_free(this.#block);
    this.#library._pffft_aligned_free(this.#work);
    this.#library._pffft_destroy_setup(this.#setup);
  }
}
