import { SAMPLE_RATE } from '../../../src/recording/recording.ts';
import type { Region } from '../../../src/recording/regions.ts';
import type { Engine } from '../../../src/transcript/engines/engine.ts';
import type { RegionWords } from '../../../src/transcript/hear-region.ts';
import { hearRegion } from '../../../src/transcript/hear-region.ts';
import { joinRegions } from '../../../src/transcript/join-regions.ts';
import type { Word } from '../../../src/transcript/transcript.ts';

const VOICE_SAMPLES = 512;

/** A stretch of sound heard in one go. */
export async function heardWhole(
  engine: Engine,
  samples: Float32Array,
  voice: Float32Array,
): Promise<Word[]> {
  const span = { start: 0, end: samples.length / SAMPLE_RATE };
  return joinRegions([{ ...span, hear: span }], [await hearRegion(engine, { samples, voice, start: 0 })]);
}

/**
 * The same stretch cut in two and joined again, as `transcribe` does it.
 * @param cut seconds from the stretch's start
 * @param past how many seconds each side hears past the cut
 */
export async function heardInTwo(
  engine: Engine,
  samples: Float32Array,
  voice: Float32Array,
  cut: number,
  past: number,
): Promise<{ joined: Word[]; before: RegionWords; after: RegionWords }> {
  const end = samples.length / SAMPLE_RATE;
  const hear = async (from: number, to: number) => {
    const [first, last] = [Math.round(from * SAMPLE_RATE), Math.round(to * SAMPLE_RATE)];
    const own = voice.subarray(Math.round(first / VOICE_SAMPLES), Math.ceil(last / VOICE_SAMPLES));
    return hearRegion(engine, { samples: samples.slice(first, last), voice: own, start: from });
  };
  const [until, since] = [Math.min(end, cut + past), Math.max(0, cut - past)];
  const before = await hear(0, until);
  const after = await hear(since, end);
  const regions: Region[] = [
    { start: 0, end: cut, hear: { start: 0, end: until } },
    { start: cut, end, hear: { start: since, end } },
  ];
  return { joined: joinRegions(regions, [before, after]), before, after };
}
