import loadPffft from '@echogarden/pffft-wasm';
import { directConvolution } from 'ml-convolution';
import { describe, expect, it } from 'vitest';
import { Fourier, powerOfTwo } from '../../../src/recording/passes/fourier.ts';
import { findHits } from '../../../src/recording/passes/propose.ts';
import { Chance } from '../../bench/frames/chance.ts';

/** The transform of complex numbers by PFFFT, a C library (J. Pommier, after FFTPACK), single precision. */
async function byPffft(values: Float64Array): Promise<Float64Array> {
  const library = await loadPffft();
  const setup = library._pffft_new_setup(values.length / 2, 1);
  const [input, output, work] = [0, 1, 2].map(() => library._pffft_aligned_malloc(4 * values.length));
  if (input === undefined || output === undefined || work === undefined) throw new Error('no memory');
  library.HEAPF32.set(values, input / 4);
  library._pffft_transform_ordered(setup, input, output, work, 0);
  const result = Float64Array.from(library.HEAPF32.subarray(output / 4, output / 4 + values.length));
  for (const pointer of [input, output, work]) library._pffft_aligned_free(pointer);
  library._pffft_destroy_setup(setup);
  return result;
}

function mostApart(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs((a[i] as number) - (b[i] as number)));
  return most;
}

describe('the Fourier transform agrees with PFFFT', () => {
  it.each([32, 512, 8192, 32768])('for %i complex numbers', async (size) => {
    const fourier = new Fourier(size);
    const values = Float64Array.from(new Chance(size).white(2 * size));
    const spectrum = fourier.complexArray();
    fourier.forward(spectrum, values);
    // PFFFT works in single precision: about 7 digits of values that grow with the root of the size.
    expect(mostApart(spectrum, await byPffft(values))).toBeLessThan(1e-5 * Math.sqrt(size));
    const back = fourier.complexArray();
    fourier.inverse(back, spectrum);
    expect(mostApart(back, values)).toBeLessThan(1e-12 * size);
  });

  it('for real numbers, forth and back', async () => {
    const fourier = new Fourier(512);
    const values = Float64Array.from(new Chance(5).white(512));
    const spectrum = fourier.complexArray();
    fourier.forwardReal(spectrum, values);
    const complex = Float64Array.from({ length: 1024 }, (_, i) =>
      i % 2 === 0 ? (values[i / 2] as number) : 0,
    );
    expect(mostApart(spectrum.subarray(0, 514), await byPffft(complex))).toBeLessThan(1e-3);
    const back = fourier.complexArray();
    fourier.inverseReal(back, spectrum);
    expect(
      mostApart(
        values,
        back.filter((_, i) => i % 2 === 0),
      ),
    ).toBeLessThan(1e-12);
  });
});

describe('sliding pieces of the shot along the recording', () => {
  it('gives the normalised correlations that direct sums give', async () => {
    const chance = new Chance(8);
    const shot = chance.white(300);
    // Heights are over the root mean square of a block, of which the first reaches to sample 313.
    const recording = chance.white(700);
    recording.set(shot, 120);
    const length = 100;
    const hits = await findHits(recording, shot, { length, hop: 50, leastHeight: 0 });
    for (const piece of [0, 50, 150]) {
      // ml-convolution slides the kernel without turning it round, centred: a correlation by direct sums.
      const kernel = shot.subarray(piece, piece + length - 1);
      const direct = directConvolution(recording, kernel);
      const mine = hits.filter((hit) => hit.piece === piece && hit.at >= 0 && hit.at <= 313);
      const sizes = mine.map(({ at }) => {
        const last = (recording[at + length - 1] as number) * (shot[piece + length - 1] as number);
        const energy = recording.subarray(at, at + length).reduce((sum, x) => sum + x * x, 0);
        return Math.abs((direct[at + 49] as number) + last) / Math.sqrt(energy);
      });
      const shares = mine.map(({ height }, i) => height / (sizes[i] as number)).filter(Number.isFinite);
      expect(mine.length).toBe(314);
      expect(Math.max(...shares) / Math.min(...shares)).toBeLessThan(1 + 1e-6);
      const best = mine.reduce((a, b) => (b.height > a.height ? b : a));
      expect(best.at).toBe(120 + piece);
    }
  });

  it('takes blocks that are powers of two', () => {
    expect([2, 3, 4, 1000, 1024, 1025].map(powerOfTwo)).toEqual([2, 4, 4, 1024, 1024, 2048]);
  });
});
