import loadPffft from '@echogarden/pffft-wasm/simd';
import { directConvolution } from 'ml-convolution';
import { describe, expect, it } from 'vitest';
import { Correlator } from '../../../src/recording/passes/correlator.ts';
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

describe('laying pieces of the shot on the recording', () => {
  it('gives the sums that direct correlation gives', async () => {
    const chance = new Chance(7);
    const correlator = await Correlator.of(256);
    const [block, more] = [chance.white(256), chance.white(256)];
    // Of odd length: ml-convolution slides the kernel without turning it round, centred, which is a correlation by direct sums.
    const [sought, other] = [chance.white(61), chance.white(61)];
    const held = [block, more].map((sound) => {
      const at = correlator.room();
      correlator.hold(at, sound);
      return at;
    });
    const lags = correlator.correlate(held, [correlator.holdSought(sought), correlator.holdSought(other)]);
    const direct = directConvolution(block, sought);
    const directMore = directConvolution(more, other);
    for (let lag = 0; lag + 61 <= 256; lag++) {
      const sum = (direct[lag + 30] as number) + (directMore[lag + 30] as number);
      expect(lags[lag] as number).toBeCloseTo(sum, 3);
    }
    correlator.free();
  });

  it('gives normalised correlations at each offset, of one piece and of two in a row', async () => {
    const chance = new Chance(8);
    const shot = chance.white(300);
    const recording = chance.white(700);
    recording.set(shot, 120);
    const pieces = { length: 100, together: 3, leastHeight: 0 };
    const hits = await findHits([recording], [shot], pieces);
    // Heights are over the root mean square of a block of 300 offsets.
    const mine = hits.filter(
      (hit) => hit.from === 100 && hit.to === 200 && hit.offset >= 0 && hit.offset < 300,
    );
    const ratios = mine.map(({ offset, height }) => {
      let sum = 0;
      let energy = 0;
      for (let i = 100; i < 200; i++) {
        sum += (recording[offset + i] as number) * (shot[i] as number);
        energy += (recording[offset + i] as number) ** 2;
      }
      return height / (Math.abs(sum) / Math.sqrt(energy));
    });
    expect(ratios.length).toBe(300);
    const middle = ratios.toSorted((a, b) => a - b)[150] as number;
    for (const ratio of ratios) expect(Math.abs(ratio / middle - 1)).toBeLessThan(0.02);
    for (const length of [100, 200]) {
      const best = hits
        .filter(({ from, to }) => to - from === length)
        .reduce((a, b) => (b.height > a.height ? b : a));
      expect(best.offset).toBe(120);
    }
  });

  it('takes blocks that are powers of two', () => {
    expect([2, 3, 4, 1000, 1024, 1025].map(powerOfTwo)).toEqual([2, 4, 4, 1024, 1024, 2048]);
  });
});
