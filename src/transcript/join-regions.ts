import type { Region } from '../recording/regions.ts';
import type { RegionWords } from './hear-region.ts';
import { joinAtCut } from './join-at-cut.ts';
import type { Word } from './transcript.ts';

const MILLISECONDS = 1000;

/**
 * Puts the words of all regions on the recording's own time, in milliseconds' precision. No word begins before the one
 * before it ended, none lies outside what was heard with it, and none ends before it begins: not at the joins either. Where
 * two regions were heard past the cut between them, each word there is taken once.
 */
export function joinRegions(regions: readonly Region[], heard: readonly RegionWords[]): Word[] {
  const lists = regions.map((region, index) => wordsOf(region, heard[index]));
  for (let index = 1; index < lists.length; index++) {
    const [before, after] = [regions[index - 1], regions[index]];
    if (!before || !after || before.hear.end <= after.hear.start) continue;
    const both = { start: after.hear.start, end: before.hear.end };
    const joined = joinAtCut(lists[index - 1] ?? [], lists[index] ?? [], both, after.start);
    [lists[index - 1], lists[index]] = [joined.before, joined.after];
  }
  let reached = 0;
  return lists.flat().map(({ text, start, end, confidence, heard: was }) => {
    const begin = Math.max(reached, rounded(start));
    reached = Math.max(begin, rounded(end));
    const sure = rounded(Math.min(1, Math.max(0, confidence)));
    const word = { text, start: begin, end: reached, confidence: sure };
    return was === undefined ? word : { ...word, heard: was };
  });
}

function wordsOf({ hear }: Region, heard: RegionWords | undefined): Word[] {
  const within = (seconds: number) => Math.min(hear.end, Math.max(hear.start, hear.start + seconds));
  return (heard?.words ?? []).map((word) => ({
    ...word,
    start: within(word.start),
    end: within(word.end),
  }));
}

function rounded(value: number): number {
  return Math.round(value * MILLISECONDS) / MILLISECONDS;
}
