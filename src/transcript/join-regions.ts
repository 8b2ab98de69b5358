import type { Region } from '../recording/regions.ts';
import type { RegionWords } from './hear-region.ts';
import type { Word } from './transcript.ts';

const MILLISECONDS = 1000;

/**
 * Puts the words of all regions on the recording's own time, in milliseconds' precision. No word begins before the one
 * before it ended, none lies outside its region, and none ends before it begins: not at the joins either.
 */
export function joinRegions(regions: readonly Region[], heard: readonly RegionWords[]): Word[] {
  let reached = 0;
  return regions.flatMap((region, index) =>
    (heard[index]?.words ?? []).map(({ text, start, end, confidence, heard: was }) => {
      const within = (seconds: number) => rounded(Math.min(region.end, Math.max(region.start, seconds)));
      const begin = Math.max(reached, within(region.start + start));
      reached = Math.max(begin, within(region.start + end));
      const sure = rounded(Math.min(1, Math.max(0, confidence)));
      const word = { text, start: begin, end: reached, confidence: sure };
      return was === undefined ? word : { ...word, heard: was };
    }),
  );
}

function rounded(value: number): number {
  return Math.round(value * MILLISECONDS) / MILLISECONDS;
}
