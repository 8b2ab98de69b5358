import { stat } from 'node:fs/promises';
import { messageOf, type Problem } from '../../basics/problem.ts';
import { readingFault } from '../../basics/system-message.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { framesOfFolder } from './frame-folder.ts';
import { type Picture, picturesOfVideo } from './frame-video.ts';

const WIDTH_PIXELS = 320;
const JPEG = { quality: 62, mozjpeg: true };

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
  const framed = sheet.notes.flatMap(({ id, frames }) =>
    frames ? [{ id, frame: Math.round(frames.first) }] : [],
  );
  const found = await stat(path).catch((error: unknown) => {
    throw readingFault(error, path);
  });
  if (framed.length === 0) return { pictures: new Map(), problems: [] };
  const wanted = new Set(framed.map(({ frame }) => frame));
  const { jpegs, problems } = found.isDirectory()
    ? await fromFolder(path, wanted, sheet.shot.first, signal)
    : await fromVideo(path, wanted, sheet.shot.first, signal);
  const pictures = new Map(
    framed.flatMap(({ id, frame }): [string, string][] => {
      const jpeg = jpegs.get(frame);
      return jpeg ? [[id, `data:image/jpeg;base64,${jpeg.toString('base64')}`]] : [];
    }),
  );
  const without = framed.length - pictures.size;
  if (without > 0) {
    const message = `${without} of the notes with frames have no picture: ${path} does not hold those frames.`;
    problems.push({ stage: 'page', message });
  }
  return { pictures, problems };
}

/** Pictures by the shot's frame, as JPEG. */
interface Found {
  readonly jpegs: ReadonlyMap<number, Buffer>;
  readonly problems: Problem[];
}

async function fromFolder(
  folder: string,
  wanted: ReadonlySet<number>,
  first: number,
  signal: AbortSignal | undefined,
): Promise<Found> {
  const { default: sharp } = await import('sharp');
  const jpegs = new Map<number, Buffer>();
  const problems: Problem[] = [];
  const files = await framesOfFolder(folder, first);
  for (const frame of wanted) {
    signal?.throwIfAborted();
    const file = files.get(frame);
    if (!file) continue;
    try {
      const small = sharp(file).rotate().resize({ width: WIDTH_PIXELS }).flatten();
      jpegs.set(frame, await small.jpeg(JPEG).toBuffer());
    } catch (error) {
      problems.push({ stage: 'page', message: `${file} is not used: ${messageOf(error)}.` });
    }
  }
  return { jpegs, problems };
}

async function fromVideo(
  video: string,
  wanted: ReadonlySet<number>,
  first: number,
  signal: AbortSignal | undefined,
): Promise<Found> {
  const { default: sharp } = await import('sharp');
  const jpegs = new Map<number, Buffer>();
  const counts = new Set([...wanted].map((frame) => frame - first).filter((count) => count >= 0));
  const take = async (count: number, { width, height, rgb }: Picture): Promise<void> => {
    const raw = sharp(rgb, { raw: { width, height, channels: 3 } });
    jpegs.set(first + count, await raw.jpeg(JPEG).toBuffer());
  };
  await picturesOfVideo(video, counts, WIDTH_PIXELS, take, signal);
  return { jpegs, problems: [] };
}
