import type { Grey, TimedPicture } from '../picture/picture.ts';
import { twoClasses } from './line.ts';

/** A stretch of the recording in which a counter looks the same. */
export interface Look {
  readonly startSeconds: number;
  readonly endSeconds: number;
  /** The counter's part of the stretch's last picture, the cleanest after compression. */
  readonly crop: Grey;
}

const BLOCK_PIXELS = 4;
/** A block of pixels has changed when its mean difference is above this part of the contrast of digits and ground. */
const CHANGE_SHARE = 0.13;
const LEAST_CHANGE = 9;
/** How long the last picture of a recording is shown at least. */
const LAST_SECONDS = 1 / 24;

/**
 * Parts a recording into looks.
 * @param pictures the counter's region, margin included
 * @param durationSeconds how long the recording lasts: its last picture may stand long before
 */
export async function findLooks(
  pictures: AsyncIterable<TimedPicture>,
  durationSeconds: number,
): Promise<Look[]> {
  const looks: Look[] = [];
  let began: TimedPicture | null = null;
  let latest: TimedPicture | null = null;
  for await (const picture of pictures) {
    if (began && latest && looksDifferent(began.grey, picture.grey)) {
      looks.push({ startSeconds: began.startSeconds, endSeconds: picture.startSeconds, crop: latest.grey });
      began = picture;
    }
    began ??= picture;
    latest = picture;
  }
  if (began && latest) {
    const endSeconds = Math.max(durationSeconds, latest.startSeconds + LAST_SECONDS);
    looks.push({ startSeconds: began.startSeconds, endSeconds, crop: latest.grey });
  }
  return looks;
}

function looksDifferent(a: Grey, b: Grey): boolean {
  const { low, high } = twoClasses(a.pixels);
  const limit = Math.max(LEAST_CHANGE, CHANGE_SHARE * (high - low)) * BLOCK_PIXELS ** 2;
  for (let top = 0; top + BLOCK_PIXELS <= a.height; top += BLOCK_PIXELS) {
    for (let left = 0; left + BLOCK_PIXELS <= a.width; left += BLOCK_PIXELS) {
      let sum = 0;
      for (let y = top; y < top + BLOCK_PIXELS; y++) {
        for (let at = y * a.width + left; at < y * a.width + left + BLOCK_PIXELS; at++) {
          sum += Math.abs((a.pixels[at] ?? 0) - (b.pixels[at] ?? 0));
        }
      }
      if (sum > limit) return true;
    }
  }
  return false;
}
