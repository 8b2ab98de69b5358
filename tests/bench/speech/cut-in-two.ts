import { SAMPLE_RATE } from '../../../src/recording/recording.ts';
import type { Region } from '../../../src/recording/regions.ts';
import type { Engine } from '../../../src/transcript/engines/engine.ts';
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
): Promise<Word[]> {
  const end = samples.length / SAMPLE_RATE;
  const regions: Region[] = [
    { start: 0, end: cut, hear: { start: 0, end: Math.min(end, cut + past) } },
    { start: cut, end, hear: { start: Math.max(0, cut - past), end } },
  ];
  const heard = [];
  for (const { hear } of regions) {
    const [from, to] = [Math.round(hear.start * SAMPLE_RATE), Math.round(hear.end * SAMPLE_RATE)];
    const own = voice.subarray(Math.round(from / VOICE_SAMPLES), Math.ceil(to / VOICE_SAMPLES));
    heard.push(await hearRegion(engine, { samples: samples.slice(from, to), voice: own, start: hear.start }));
  }
  return joinRegions(regions, heard);
}
