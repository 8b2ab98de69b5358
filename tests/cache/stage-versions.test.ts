import { describe, expect, it } from 'vitest';
import { current, recorded, STAGES, sourcesOf } from './stage-sources.ts';

describe('a kept result of older code', () => {
  const [before, now] = [recorded(), current()];

  it.each(Object.entries(STAGES))('of the stage %s is not taken for one of newer', (name, { constant }) => {
    const advice = `The code of the stage "${name}" changed. Where its results may differ, raise ${constant}; then run "npm run stages" (with "-- --same-results" where they cannot differ), and check in tests/cache/stage-sources.json.`;
    expect(before[name], advice).toEqual(now[name]);
  });

  it('is told by the files that its result comes from', () => {
    const sources = (name: string) => sourcesOf(STAGES[name]?.files ?? [], STAGES[name]?.upTo ?? []);
    expect(sources('recording')).toEqual(
      expect.arrayContaining(['src/recording/decoders/wav.ts', 'src/recording/resample.ts']),
    );
    expect(sources('region')).toEqual(
      expect.arrayContaining([
        'src/transcript/alignment/dtw.ts',
        'src/transcript/engines/moonshine.ts',
        'src/transcript/guards/loops.ts',
      ]),
    );
    expect(sources('transcript')).toEqual(
      expect.arrayContaining(['src/recording/regions.ts', 'src/transcript/join-regions.ts']),
    );
    expect(sources('transcript')).not.toContain('src/transcript/engines/moonshine.ts');
    expect(sources('shot-sound')).toContain('src/recording/passes/find-passes.ts');
    expect(sources('counter')).toContain('src/recording/counter/track.ts');
  });
});
