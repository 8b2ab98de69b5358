import { type Face, GLYPH_MARGIN } from './glyphs.ts';

/** A colour as video holds it: brightness, and the two differences of colour, 0 to 255 each. */
export type Colour = readonly [y: number, u: number, v: number];

export const COLOURS = {
  white: [235, 128, 128],
  black: [16, 128, 128],
  grey: [60, 128, 128],
  paleGrey: [190, 128, 128],
  yellow: [210, 16, 146],
  green: [145, 54, 34],
  cyan: [170, 166, 16],
  red: [90, 95, 240],
} satisfies Record<string, Colour>;

/** A picture in three planes, the colour ones half as wide and high (4:2:0). */
export class Picture {
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array;

  constructor(width: number, height: number, bytes = new Uint8Array((width * height * 3) / 2)) {
    this.width = width;
    this.height = height;
    this.bytes = bytes;
  }

  copy(): Picture {
    return new Picture(this.width, this.height, this.bytes.slice());
  }

  fill(x: number, y: number, width: number, height: number, colour: Colour, opacity = 1): void {
    for (let row = Math.max(0, Math.round(y)); row < Math.min(this.height, Math.round(y + height)); row++) {
      for (let at = Math.max(0, Math.round(x)); at < Math.min(this.width, Math.round(x + width)); at++) {
        this.mix(at, row, colour, opacity);
      }
    }
  }

  mix(x: number, y: number, colour: Colour, part: number): void {
    const put = (at: number, value: number) => {
      this.bytes[at] = Math.round((this.bytes[at] ?? 0) * (1 - part) + value * part);
    };
    put(y * this.width + x, colour[0]);
    if (x % 2 || y % 2) return;
    const plane = this.width * this.height;
    const at = (y / 2) * (this.width / 2) + x / 2;
    put(plane + at, colour[1]);
    put(plane + plane / 4 + at, colour[2]);
  }

  /** Writes text whose digits stand on the line `y`, from `x` on. */
  write(text: string, x: number, y: number, face: Face, colour: Colour): void {
    let pen = x;
    for (const character of text) {
      const { width, height, cover, advance } = face.glyph(character);
      const left = Math.round(pen) - GLYPH_MARGIN;
      const top = Math.round(y) - face.baseline;
      for (let row = 0; row < height; row++) {
        for (let column = 0; column < width; column++) {
          const part = (cover[row * width + column] ?? 0) / 255;
          const [at, line] = [left + column, top + row];
          if (part > 0 && at >= 0 && at < this.width && line >= 0 && line < this.height) {
            this.mix(at, line, colour, part);
          }
        }
      }
      pen += advance;
    }
  }
}
