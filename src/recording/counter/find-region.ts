import type { Box, Grey, Plane } from '../picture/picture.ts';
import { type Candidate, findCandidates } from './candidates.ts';
import { type CounterRegion, cutOut, lineForReading, withMargin } from './line.ts';
import { guessMeaning, type ShotRange } from './meaning.ts';
import type { DigitReader, Reading } from './ocr.ts';

/** A place that may be the counter, and how well its numbers fit the shot, 0 to 1. */
export interface RankedRegion {
  readonly region: CounterRegion;
  readonly fit: number;
}

/** Only the likeliest places are read, in so many pictures. */
const MOST_CANDIDATES = 14;
const READ_PICTURES = 10;
/** Below, a place is no counter. */
const LEAST_FIT = 0.4;
const LEAST_NUMBERS = 3;

/** Finds the places whose writing reads as numbers of the shot that change, the likeliest first. */
export async function findRegions(
  pictures: readonly Grey[],
  plane: Plane,
  shot: ShotRange,
  reader: DigitReader,
): Promise<RankedRegion[]> {
  const ranked: RankedRegion[] = [];
  for (const candidate of findCandidates(pictures).slice(0, MOST_CANDIDATES)) {
    const { box, bright } = candidate;
    const region: CounterRegion = { box, bright, digitPixels: box.height, plane };
    const readings = await readSome(candidate, region, pictures, reader);
    const guess = guessMeaning(readings, shot);
    const numbers = new Set(readings.map(({ text }) => text).filter(Boolean));
    if (!guess || numbers.size < Math.min(LEAST_NUMBERS, readings.length)) continue;
    const sureness = readings.reduce((sum, { confidence }) => sum + confidence, 0) / readings.length;
    const fit = (guess.share * sureness * guess.readings) / readings.length;
    if (fit >= LEAST_FIT) ranked.push({ region, fit });
  }
  return ranked.sort((a, b) => b.fit - a.fit);
}

async function readSome(
  candidate: Candidate,
  region: CounterRegion,
  pictures: readonly Grey[],
  reader: DigitReader,
): Promise<Reading[]> {
  const readings: Reading[] = [];
  const stride = Math.max(1, Math.floor(candidate.seenIn.length / READ_PICTURES));
  for (let i = 0; i < candidate.seenIn.length && readings.length < READ_PICTURES; i += stride) {
    const grey = pictures[candidate.seenIn[i] ?? -1];
    if (!grey) continue;
    const crop = cutOut(grey, withMargin(region, grey));
    readings.push(await reader.read(lineForReading(crop, region.bright, region.digitPixels)));
  }
  return readings;
}

/** The same region in a picture of which these pictures were a part. */
export function movedBy(region: CounterRegion, { x, y }: Pick<Box, 'x' | 'y'>): CounterRegion {
  return { ...region, box: { ...region.box, x: region.box.x + x, y: region.box.y + y } };
}
