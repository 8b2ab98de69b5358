import { describe, expect, it } from 'vitest';
import { uncorrelate } from '../../../src/recording/passes/uncorrelated.ts';
import { Chance } from '../../bench/frames/chance.ts';

const LENGTH = 20_000;

/** Three bands that rise and fall together, each with a little of its own. */
function talk(chance: Chance): Float32Array[] {
  const common = chance.white(LENGTH);
  return [0.5, 0.3, 0.4].map((own) => {
    const alone = chance.white(LENGTH);
    return common.map((x, i) => x + own * (alone[i] as number));
  });
}

function product(a: Float32Array, b: Float32Array): number {
  return a.reduce((sum, x, i) => sum + x * (b[i] as number), 0) / a.length;
}

describe('bands that rise and fall together', () => {
  it('are made uncorrelated, each as strong as the others', () => {
    const { recording } = uncorrelate(
      talk(new Chance(1)),
      [0, 1, 2].map(() => new Float32Array(10)),
    );
    for (const [i, a] of recording.entries()) {
      for (const [j, b] of recording.entries()) {
        expect(Math.abs(product(a, b) - (i === j ? 1 : 0))).toBeLessThan(i === j ? 0.2 : 0.05);
      }
    }
  });

  it('let a shot that differs between bands stand out of them further than before', () => {
    const bands = talk(new Chance(2));
    const chance = new Chance(3);
    const shot = bands.map(() => chance.white(200));
    for (const [i, band] of bands.entries())
      for (let k = 0; k < 200; k++)
        band[5000 + k] = (band[5000 + k] as number) + 0.4 * (shot[i]?.[k] as number);
    const heightOf = (recording: readonly Float32Array[], sought: readonly Float32Array[]) => {
      const at = (place: number) =>
        sought.reduce(
          (sum, s, i) => sum + 200 * product(s, (recording[i] as Float32Array).subarray(place, place + 200)),
          0,
        );
      const others = Array.from({ length: 60 }, (_, i) => at(i < 20 ? 200 * i : 6000 + 200 * i) ** 2);
      return at(5000) / Math.sqrt(others.reduce((a, b) => a + b, 0) / others.length);
    };
    const after = uncorrelate(bands, shot);
    expect(heightOf(after.recording, after.shot)).toBeGreaterThan(1.5 * heightOf(bands, shot));
    expect(heightOf(after.recording, after.shot)).toBeGreaterThan(6);
  });

  it('do not let one loud moment count for more than a few', () => {
    const bands = talk(new Chance(4));
    for (const band of bands) band[7000] = 500 * ((band[7000] as number) - 0.3);
    const { recording } = uncorrelate(
      bands,
      bands.map(() => new Float32Array(10)),
    );
    for (const band of recording) expect(Math.abs(band[7000] as number)).toBeLessThanOrEqual(3);
  });
});
