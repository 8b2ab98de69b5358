/** The parts of the compiled C library that are used here; it brings no types. */
declare module '@echogarden/pffft-wasm/simd' {
  interface Pffft {
    /** The library's memory; another view after it has grown. */
    readonly HEAPF32: Float32Array;
    _pffft_new_setup(size: number, complex: 0 | 1): number;
    _pffft_destroy_setup(setup: number): void;
    _pffft_aligned_malloc(bytes: number): number;
    _pffft_aligned_free(pointer: number): void;
    _pffft_transform(setup: number, input: number, output: number, work: number, backward: 0 | 1): void;
    _pffft_transform_ordered(
      setup: number,
      input: number,
      output: number,
      work: number,
      backward: 0 | 1,
    ): void;
    _pffft_zconvolve_accumulate(
      setup: number,
      first: number,
      second: number,
      sum: number,
      scale: number,
    ): void;
  }
  export default function load(): Promise<Pffft>;
}
