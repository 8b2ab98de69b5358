import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import opentype from 'opentype.js';
import sharp from 'sharp';

/** Fonts that packages bring along, so that no font of the machine is needed. */
export const FONTS = {
  arimo: '@fontsource/arimo/files/arimo-latin-400-normal.woff',
  arimoBold: '@fontsource/arimo/files/arimo-latin-700-normal.woff',
  cousine: '@fontsource/cousine/files/cousine-latin-400-normal.woff',
  openSans: '@fontsource/open-sans/files/open-sans-latin-600-normal.woff',
  robotoMono: '@fontsource/roboto-mono/files/roboto-mono-latin-500-normal.woff',
} as const;
export type FontName = keyof typeof FONTS;

/** One drawn character: how far it covers each pixel, 0 to 255, and how far the next one stands. */
export interface Glyph {
  readonly width: number;
  readonly height: number;
  readonly cover: Uint8Array;
  readonly advance: number;
}

export interface Face {
  /** From the top of a glyph's picture to the foot of its digits. */
  readonly baseline: number;
  readonly glyph: (character: string) => Glyph;
}

const CHARACTERS = '0123456789:;/. _-abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ';
const require = createRequire(import.meta.url);
const MARGIN = 3;

/** Draws every character of a font once, at a size in pixels of its em. */
export async function drawFace(name: FontName, pixels: number): Promise<Face> {
  const bytes = readFileSync(require.resolve(FONTS[name]));
  const font = opentype.parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  const baseline = Math.ceil(pixels) + MARGIN;
  const height = Math.ceil(1.35 * pixels) + 2 * MARGIN;
  const glyphs = new Map<string, Glyph>();
  for (const character of CHARACTERS) {
    const advance = font.getAdvanceWidth(character, pixels);
    const width = Math.ceil(advance) + 2 * MARGIN;
    const path = font.getPath(character, MARGIN, baseline, pixels).toPathData(2);
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><path fill="#fff" d="${path}"/></svg>`;
    const cover = await sharp(Buffer.from(svg)).extractChannel('alpha').raw().toBuffer();
    glyphs.set(character, { width, height, cover, advance });
  }
  return {
    baseline,
    glyph(character) {
      const glyph = glyphs.get(character);
      if (!glyph) throw new Error(`no glyph drawn for "${character}"`);
      return glyph;
    },
  };
}

/** How wide a text is when written, in pixels. */
export function textWidth(text: string, face: Face): number {
  return [...text].reduce((sum, character) => sum + face.glyph(character).advance, 0);
}

export { MARGIN as GLYPH_MARGIN };
