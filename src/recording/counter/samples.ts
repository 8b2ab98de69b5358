import type { Grey, TimedPicture } from '../picture/picture.ts';

/** So many pictures that differ are enough to tell what in them counts. */
const MOST_SAMPLES = 40;
/** A digit that changes alters a few pixels by much; grain and compression alter many by little. */
const STEP_PIXELS = 2;
const LEAST_CHANGE = 40;
const LEAST_CHANGED = 3;

/**
 * Pictures spread over a recording, each different from the one before it.
 * @param spacingSeconds the least time from one to the next
 */
export async function differingPictures(
  pictures: AsyncIterable<TimedPicture>,
  spacingSeconds: number,
): Promise<Grey[]> {
  let samples: Grey[] = [];
  let spacing = spacingSeconds;
  let lastSeconds = Number.NEGATIVE_INFINITY;
  for await (const { startSeconds, grey } of pictures) {
    if (startSeconds - lastSeconds < spacing) continue;
    const last = samples.at(-1);
    if (last && !differs(last, grey)) continue;
    samples.push(grey);
    lastSeconds = startSeconds;
    if (samples.length < 2 * MOST_SAMPLES) continue;
    samples = samples.filter((_, i) => i % 2 === 0);
    spacing *= 2;
  }
  const stride = Math.ceil(samples.length / MOST_SAMPLES);
  return samples.filter((_, i) => i % stride === 0);
}

function differs(a: Grey, b: Grey): boolean {
  if (a.width !== b.width || a.height !== b.height) return false;
  let changed = 0;
  for (let y = 0; y < a.height; y += STEP_PIXELS) {
    for (let x = 0; x < a.width; x += STEP_PIXELS) {
      const at = y * a.width + x;
      if (Math.abs((a.pixels[at] ?? 0) - (b.pixels[at] ?? 0)) >= LEAST_CHANGE && ++changed >= LEAST_CHANGED) {
        return true;
      }
    }
  }
  return false;
}
