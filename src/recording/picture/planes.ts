import type { Plane } from './picture.ts';

/** FFmpeg's name for the form in which pixels are asked for, and how long one is. */
export const PIXEL_FORMATS: Readonly<Record<Plane, string>> = { brightness: 'gray', whiteness: 'rgb24' };
export const BYTES_A_PIXEL: Readonly<Record<Plane, number>> = { brightness: 1, whiteness: 3 };

/** The least of red, green and blue of each pixel. */
export function leastOfColours(rgb: Uint8Array): Uint8Array {
  const least = new Uint8Array(rgb.length / 3);
  for (let i = 0; i < least.length; i++) {
    least[i] = Math.min(rgb[3 * i] ?? 0, rgb[3 * i + 1] ?? 0, rgb[3 * i + 2] ?? 0);
  }
  return least;
}
