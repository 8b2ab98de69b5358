import { readdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { PersonError } from '../../basics/problem.ts';

const PICTURES = ['.png', '.jpg', '.jpeg', '.webp', '.tif', '.tiff', '.gif', '.avif'];

/**
 * The picture files of a folder by shot frame, told by the last number in their names. Numbers that do not reach into the
 * shot (a folder that counts from 1 for a shot that begins at 1001) are counted on from the shot's first frame.
 *
 * @throws PersonError where the folder holds no numbered pictures.
 */
export async function framesOfFolder(folder: string, shotFirst: number): Promise<Map<number, string>> {
  const files = new Map<number, string>();
  for (const name of (await readdir(folder)).sort()) {
    if (!PICTURES.includes(extname(name).toLowerCase())) continue;
    const number = /(\d+)\D*$/.exec(name.slice(0, -extname(name).length))?.[1];
    if (number) files.set(Number(number), join(folder, name));
  }
  if (files.size === 0) {
    throw new PersonError(
      `${folder} holds no pictures with a frame number in their names (PNG, JPEG, WebP, TIFF): give the folder of the shot's frames.`,
    );
  }
  const numbers = [...files.keys()];
  if (Math.max(...numbers) >= shotFirst) return files;
  const shift = shotFirst - Math.min(...numbers);
  return new Map([...files].map(([number, path]) => [number + shift, path]));
}
