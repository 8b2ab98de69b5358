import type { Grey } from '../picture/picture.ts';

/** Half the side of the square around a pixel that it is compared with: wider than any stroke, not much more than a line. */
const REACH_PIXELS = 18;
/** How far from its surroundings' mean brightness a pixel must be to be ink: above grain and compression noise. */
const LEAST_CONTRAST = 22;

/**
 * Marks the pixels that stand out from their surroundings (Bradley and Roth's adaptive threshold, by an integral image).
 * @param bright whether writing is lighter than its ground
 * @returns 1 for ink, 0 for ground, row by row
 */
export function inkOf({ width, height, pixels }: Grey, bright: boolean): Uint8Array {
  const stride = width + 1;
  const sums = new Float64Array(stride * (height + 1));
  for (let y = 0; y < height; y++) {
    let row = 0;
    for (let x = 0; x < width; x++) {
      row += pixels[y * width + x] ?? 0;
      sums[(y + 1) * stride + x + 1] = (sums[y * stride + x + 1] ?? 0) + row;
    }
  }
  const ink = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const top = Math.max(0, y - REACH_PIXELS) * stride;
    const bottom = Math.min(height, y + REACH_PIXELS + 1) * stride;
    const rows = (bottom - top) / stride;
    for (let x = 0; x < width; x++) {
      const left = Math.max(0, x - REACH_PIXELS);
      const right = Math.min(width, x + REACH_PIXELS + 1);
      const sum =
        (sums[bottom + right] ?? 0) -
        (sums[bottom + left] ?? 0) -
        (sums[top + right] ?? 0) +
        (sums[top + left] ?? 0);
      const over = (pixels[y * width + x] ?? 0) - sum / (rows * (right - left));
      ink[y * width + x] = (bright ? over : -over) > LEAST_CONTRAST ? 1 : 0;
    }
  }
  return ink;
}
