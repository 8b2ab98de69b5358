import { describe, expect, it } from 'vitest';
import type { Alignment } from '../../../src/recording/passes/align.ts';
import { beliefIn } from '../../../src/recording/passes/belief.ts';

/** A play heard for two seconds (250 windows of 8 ms), with what each window says of it in nats. */
function heard(nats: (window: number) => number, by: Alignment['by']): Alignment {
  const series = Float64Array.from({ length: 250 }, (_, k) => nats(k));
  const total = series.reduce((sum, one) => sum + one, 0);
  return {
    heard: { samples: new Float32Array(0), speed: 1, windows: 250 } as Alignment['heard'],
    by,
    offset: 0,
    pace: 1,
    firstWindow: 0,
    nats: series,
    windows: { from: 0, to: 250 },
    total,
    evidence: total,
    errorSamples: 64,
  };
}

describe('a play of the shot', () => {
  it.each(['waveform', 'bands'] as const)('is believed by %s where all of it tells of the shot', (by) => {
    const play = heard(() => 0.5, by);
    expect(beliefIn(play, play.total)).toBeGreaterThan(0.99);
  });

  it('is not believed by bands where one moment alone does', () => {
    const play = heard((k) => (k >= 100 && k < 125 ? 5 : 0), 'bands');
    expect(play.total).toBe(125);
    expect(beliefIn(play, play.total)).toBeLessThan(0.01);
  });

  it('is believed by its waveform where one moment says enough: a footstep is no more than that', () => {
    const step = (each: number) => heard((k) => (k >= 100 && k < 125 ? each : 0), 'waveform');
    expect(beliefIn(step(8), 200)).toBeGreaterThan(0.99);
    expect(beliefIn(step(8), 100)).toBeLessThan(0.1);
  });

  it('is not believed where another place of the shot would explain it as well', () => {
    expect(
      beliefIn(
        heard(() => 0.5, 'bands'),
        5,
      ),
    ).toBeLessThan(0.01);
  });
});
