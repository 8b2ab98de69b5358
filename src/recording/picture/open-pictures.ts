import type { SoundFile } from '../sound-file.ts';
import { ffmpegPictures } from './ffmpeg.ts';
import { nodeAvPictures } from './node-av.ts';
import type { PictureReader, PictureRefusal, PictureTrack } from './picture.ts';

/** Every reader of pictures, in the order they are tried: node-av needs no program, ffmpeg is what people have. */
export const PICTURE_READERS: readonly PictureReader[] = [nodeAvPictures, ffmpegPictures];

/**
 * Opens the picture track of a recording with the first reader that can.
 * @returns the track, or one sentence that says why there is none
 */
export async function openPictures(
  file: SoundFile,
  readers: readonly PictureReader[] = PICTURE_READERS,
): Promise<PictureTrack | string> {
  const refusals: PictureRefusal[] = [];
  for (const reader of readers) {
    const outcome = await reader.open(file);
    if (!('refused' in outcome)) return outcome;
    refusals.push(outcome);
  }
  const because = (kind: PictureRefusal['refused']) =>
    refusals.find(({ refused }) => refused === kind)?.because;
  if (because('blind')) return `${file.name} has no pictures in it, so no counter was read.`;
  const damaged = because('damaged');
  if (damaged) return `The pictures of ${file.name} cannot be read (${damaged}), so no counter was read.`;
  return (
    `The pictures of ${file.name} were not looked at, so no counter was read: ` +
    'install ffmpeg, or node-av with "npm install node-av".'
  );
}
