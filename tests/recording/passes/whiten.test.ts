import { describe, expect, it } from 'vitest';
import { BlockTransform } from '../../../src/recording/passes/block-transform.ts';
import { Fourier } from '../../../src/recording/passes/fourier.ts';
import { whiten } from '../../../src/recording/passes/whiten.ts';
import { Chance } from '../../bench/frames/chance.ts';

describe('transforms of a block of real numbers', () => {
  it.each([64, 512, 2048])('agree with those of another library, for %i, and come back', async (size) => {
    const sound = new Chance(size).white(size);
    const transform = await BlockTransform.of(size);
    transform.block.set(sound);
    transform.forward();
    const fourier = new Fourier(size);
    const spectrum = fourier.complexArray();
    fourier.forwardReal(spectrum, Float64Array.from(sound));
    for (let i = 2; i < size; i++)
      expect(Math.abs((transform.block[i] as number) - (spectrum[i] as number))).toBeLessThan(
        1e-4 * Math.sqrt(size),
      );
    expect(transform.block[1]).toBeCloseTo(spectrum[size] as number, 3);
    transform.backward();
    for (let i = 0; i < size; i++)
      expect((transform.block[i] as number) / size).toBeCloseTo(sound[i] as number, 4);
    transform.free();
  });
});

describe('a sound without level and colour', () => {
  it('keeps its time at a lower rate, however loud it was', async () => {
    const sound = new Float32Array(16_000);
    sound[6_400] = 0.5;
    sound[12_000] = 0.01;
    const out = await whiten(sound, { rateHz: 8000, lowHz: 150, highHz: 3600, power: 1 });
    expect(out.length).toBe(8_000);
    const strongest = (from: number, to: number) => {
      let at = from;
      for (let i = from; i < to; i++) if (Math.abs(out[i] as number) > Math.abs(out[at] as number)) at = i;
      return at;
    };
    expect(strongest(0, 4_600)).toBe(3_200);
    expect(strongest(4_600, 8_000)).toBe(6_000);
    expect(Math.abs(out[6_000] as number)).toBeGreaterThan(0.3 * Math.abs(out[3_200] as number));
  });

  it('of no power at all is the sound between the two frequencies', async () => {
    const tone = (hz: number, samples: number, rate: number) =>
      Float32Array.from({ length: samples }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rate));
    const [low, kept] = [tone(62.5, 32_000, 16_000), tone(1000, 32_000, 16_000)];
    const out = await whiten(
      low.map((x, i) => x + (kept[i] as number)),
      { rateHz: 4000, lowHz: 150, highHz: 1800, power: 0 },
    );
    const wanted = tone(1000, 8_000, 4000);
    const gain = (out[4_001] as number) / (wanted[4_001] as number);
    for (let i = 1_000; i < 7_000; i++)
      expect(Math.abs((out[i] as number) / gain - (wanted[i] as number))).toBeLessThan(0.02);
  });
});
