import { stat } from 'node:fs/promises';
import { messageOf, type Problem } from '../../basics/problem.ts';
import { readingFault } from '../../basics/system-message.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { framesOfFolder } from './frame-folder.ts';
import { picturesOfVideo } from './frame-video.ts';

const WIDTH_PIXELS = 320;
const QUALITY = 62;

export interface NotePictures {
  /** For a note's id, its first frame as a data address. */
  readonly pictures: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

/**
 * A small picture for each note that has frames, from the shot's video or a folder of its frames.
 *
 * @throws PersonError where neither can be read.
 */
export async function notePictures(sheet: Sheet, path: string, signal?: AbortSignal): Promise<NotePictures> {
  const { default: sharp } = await import('sharp');
  const notesOf = new Map<number, string[]>();
  for (const { id, frames } of sheet.notes) {
    if (frames) notesOf.set(Math.round(frames.first), [...(notesOf.get(Math.round(frames.first)) ?? []), id]);
  }
  const found = await stat(path).catch((error: unknown) => {
    throw readingFault(error, path);
  });
  const pictures = new Map<string, string>();
  const problems: Problem[] = [];
  const give = (frame: number, jpeg: Buffer): void => {
    for (const id of notesOf.get(frame) ?? []) {
      pictures.set(id, `data:image/jpeg;base64,${jpeg.toString('base64')}`);
    }
  };
  if (notesOf.size === 0) return { pictures, problems };
  if (found.isDirectory()) {
    const files = await framesOfFolder(path, sheet.shot.first);
    for (const frame of notesOf.keys()) {
      signal?.throwIfAborted();
      const file = files.get(frame);
      if (!file) continue;
      try {
        const small = sharp(file).rotate().resize({ width: WIDTH_PIXELS }).flatten();
        give(frame, await small.jpeg({ quality: QUALITY, mozjpeg: true }).toBuffer());
      } catch (error) {
        problems.push({ stage: 'page', message: `${file} is not used: ${messageOf(error)}.` });
      }
    }
  } else {
    const { first } = sheet.shot;
    const wanted = new Set([...notesOf.keys()].map((frame) => frame - first).filter((count) => count >= 0));
    await picturesOfVideo(
      path,
      wanted,
      WIDTH_PIXELS,
      async (count, { width, height, rgb }) => {
        const raw = sharp(rgb, { raw: { width, height, channels: 3 } });
        give(first + count, await raw.jpeg({ quality: QUALITY, mozjpeg: true }).toBuffer());
      },
      signal,
    );
  }
  const without = [...notesOf.values()].flat().filter((id) => !pictures.has(id)).length;
  if (without > 0) {
    problems.push({
      stage: 'page',
      message: `${without} of the notes with frames have no picture: ${path} does not hold those frames.`,
    });
  }
  return { pictures, problems };
}
