/** The parts of the compiled C library that the tests use; it brings no types. */
declare module '@echogarden/pffft-wasm' {
  interface Pffft {
    readonly HEAPF32: Float32Array;
    _pffft_new_setup(size: number, complex: 0 | 1): number;
    _pffft_destroy_setup(setup: number): void;
    _pffft_aligned_malloc(bytes: number): number;
    _pffft_aligned_free(pointer: number): void;
    _pffft_transform_ordered(
      setup: number,
      input: number,
      output: number,
      work: number,
      backward: 0 | 1,
    ): void;
  }
  export default function load(): Promise<Pffft>;
}
