import type { Demuxer } from 'node-av';

/** A day; beyond it a start time is a mark for "unknown", or nonsense. */
const MOST_MILLIONTHS = 86_400e6;

/**
 * Where a file's own clock begins, in seconds: the moment that sound and pictures are both timed from. FFmpeg counts it
 * in millionths and marks the unknown as very negative.
 */
export function clockStartSeconds(input: Demuxer): number {
  const millionths = Number(input.getFormatContext().startTime);
  return Number.isFinite(millionths) && Math.abs(millionths) < MOST_MILLIONTHS ? millionths / 1e6 : 0;
}
