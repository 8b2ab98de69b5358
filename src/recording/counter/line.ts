import type { Box, Grey, Plane } from '../picture/picture.ts';

/** Where a counter stands in the pictures and how it is written. */
export interface CounterRegion {
  /** Round the writing at its widest, in pixels of the picture. */
  readonly box: Box;
  /** Lighter than its ground. */
  readonly bright: boolean;
  readonly digitPixels: number;
  readonly plane: Plane;
}

/** What the engine reads best: digits so many pixels high, ground around them. */
const DIGIT_PIXELS = 34;
const GROUND_PIXELS = 14;
/** Round a counter's box, as a part of the digits' height: enough for an edge that was missed, too little for neighbours. */
const MARGIN = 0.28;

/** The region with a margin, within the picture. */
export function withMargin(
  { box, digitPixels }: CounterRegion,
  picture: Pick<Grey, 'width' | 'height'>,
): Box {
  const margin = Math.max(2, Math.round(MARGIN * digitPixels));
  const x = Math.max(0, box.x - margin);
  const y = Math.max(0, box.y - margin);
  return {
    x,
    y,
    width: Math.min(picture.width, box.x + box.width + margin) - x,
    height: Math.min(picture.height, box.y + box.height + margin) - y,
  };
}

/** A part of a picture. */
export function cutOut({ width, pixels }: Grey, box: Box): Grey {
  const part = new Uint8Array(box.width * box.height);
  for (let row = 0; row < box.height; row++) {
    const from = (box.y + row) * width + box.x;
    part.set(pixels.subarray(from, from + box.width), row * box.width);
  }
  return { width: box.width, height: box.height, pixels: part };
}

/**
 * Makes a counter's part of a picture ready to be read: dark digits on white, the ground's own shades gone, what reaches
 * in from outside wiped away, digits of a height the engine knows.
 * @param crop the region with its margin
 */
export function lineForReading(crop: Grey, bright: boolean, digitPixels: number): Grey {
  const ink = bright ? crop.pixels : crop.pixels.map((value) => 255 - value);
  const { threshold, low, high } = twoClasses(ink);
  const wiped = withoutEdges({ ...crop, pixels: ink }, threshold, low);
  const span = Math.max(1, high - low);
  const dark = wiped.map((value) => 255 - Math.round(255 * Math.min(1, Math.max(0, (value - low) / span))));
  return scaled({ ...crop, pixels: dark }, DIGIT_PIXELS / digitPixels, GROUND_PIXELS);
}

/** Parts brightness into ground and ink (Otsu 1979), with the mean of each. */
export function twoClasses(pixels: Uint8Array): { threshold: number; low: number; high: number } {
  const counts = new Float64Array(256);
  for (const value of pixels) counts[value] = (counts[value] ?? 0) + 1;
  let sum = 0;
  counts.forEach((count, value) => {
    sum += count * value;
  });
  let best = { threshold: 127, low: 0, high: 255, between: -1 };
  let below = 0;
  let sumBelow = 0;
  for (let value = 0; value < 255; value++) {
    below += counts[value] ?? 0;
    sumBelow += value * (counts[value] ?? 0);
    const above = pixels.length - below;
    if (below === 0 || above === 0) continue;
    const low = sumBelow / below;
    const high = (sum - sumBelow) / above;
    const between = below * above * (high - low) ** 2;
    if (between > best.between) best = { threshold: value, low, high, between };
  }
  return best;
}

/** Ink that hangs on the picture's edge is no digit: it becomes ground. */
function withoutEdges({ width, height, pixels }: Grey, threshold: number, ground: number): Uint8Array {
  const result = pixels.slice();
  const stack: number[] = [];
  const take = (x: number, y: number) => {
    if (x < 0 || y < 0 || x >= width || y >= height) return;
    const at = y * width + x;
    if ((result[at] ?? 0) <= threshold) return;
    result[at] = ground;
    stack.push(at);
  };
  for (let x = 0; x < width; x++) for (const y of [0, height - 1]) take(x, y);
  for (let y = 0; y < height; y++) for (const x of [0, width - 1]) take(x, y);
  for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
    const [x, y] = [at % width, Math.floor(at / width)];
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]] as const) take(x + dx, y + dy); // biome-ignore format: four neighbours
  }
  return result;
}

/** Larger or smaller, bilinear, on white ground. */
function scaled({ width, height, pixels }: Grey, factor: number, border: number): Grey {
  const wide = Math.max(1, Math.round(width * factor));
  const high = Math.max(1, Math.round(height * factor));
  const result = new Uint8Array((wide + 2 * border) * (high + 2 * border)).fill(255);
  for (let y = 0; y < high; y++) {
    const fromY = Math.min(height - 1, Math.max(0, (y + 0.5) / factor - 0.5));
    const top = Math.floor(fromY);
    const down = fromY - top;
    const below = Math.min(height - 1, top + 1);
    for (let x = 0; x < wide; x++) {
      const fromX = Math.min(width - 1, Math.max(0, (x + 0.5) / factor - 0.5));
      const left = Math.floor(fromX);
      const along = fromX - left;
      const right = Math.min(width - 1, left + 1);
      const at = (row: number, column: number) => pixels[row * width + column] ?? 0;
      const upper = at(top, left) * (1 - along) + at(top, right) * along;
      const lower = at(below, left) * (1 - along) + at(below, right) * along;
      result[(y + border) * (wide + 2 * border) + x + border] = Math.round(upper * (1 - down) + lower * down);
    }
  }
  return { width: wide + 2 * border, height: high + 2 * border, pixels: result };
}
