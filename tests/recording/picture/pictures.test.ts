import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ffmpegPictures } from '../../../src/recording/picture/ffmpeg.ts';
import { nodeAvPictures } from '../../../src/recording/picture/node-av.ts';
import type { PictureReader, PictureRequest, TimedPicture } from '../../../src/recording/picture/picture.ts';
import { leastOfColours } from '../../../src/recording/picture/planes.ts';
import { findSoundFile } from '../../../src/recording/sound-file.ts';
import { makeFilm, reasonForNoFilm } from '../screen/film.ts';
import { COLOURS, Picture } from '../screen/picture.ts';
import { fixture, ownFolder } from '../sounds.ts';

const { folder } = ownFolder();
const noFilm = await reasonForNoFilm();

async function all(reader: PictureReader, path: string, request: PictureRequest): Promise<TimedPicture[]> {
  const track = await reader.open(await findSoundFile(path));
  if ('refused' in track) throw new Error(track.because);
  const pictures: TimedPicture[] = [];
  for await (const picture of track.pictures(request)) pictures.push(picture);
  return pictures;
}

/** Ten grey pictures with a bright square that moves, at odd times, beginning at 0.7 s of the sound. */
const TIMES = [0.7, 0.74, 0.78, 1.2, 1.21, 1.5, 2.25, 2.3, 2.9, 3.0];
async function oddFilm(name: string): Promise<string> {
  const path = join(folder, name);
  const pictures = TIMES.map((seconds, i) => {
    const picture = new Picture(320, 180);
    picture.fill(0, 0, 320, 180, COLOURS.grey);
    picture.fill(30 * i, 40, 20, 20, COLOURS.white);
    return { seconds, picture };
  });
  await makeFilm(path, pictures, {
    width: 320,
    height: 180,
    group: 5,
    tone: { startSeconds: 0, seconds: 3 },
  });
  return path;
}

describe.each([nodeAvPictures, ffmpegPictures])('with $name', async (reader) => {
  const outcome = await reader.open(await findSoundFile(fixture('silent-film.mp4')));
  const reason = 'refused' in outcome ? `${reader.name} cannot be used here: ${outcome.because}` : noFilm;
  if (reason) console.warn(reason);

  test.skipIf(reason).each(['odd.mp4', 'odd.mov'])(
    'the pictures of %s have their own times',
    async (name) => {
      const pictures = await all(reader, await oddFilm(`${reader.name}-${name}`), {});
      expect(pictures.map(({ startSeconds }) => startSeconds)).toEqual(
        TIMES.map((time) => expect.closeTo(time, 2)),
      );
    },
  );

  test.skipIf(reason)('a part of each is as it was drawn', async () => {
    const path = await oddFilm(`${reader.name}-part.mp4`);
    const pictures = await all(reader, path, { crop: { x: 60, y: 40, width: 20, height: 20 } });
    const means = pictures.map(
      ({ grey }) => grey.pixels.reduce((sum, value) => sum + value, 0) / grey.pixels.length,
    );
    expect(means.indexOf(Math.max(...means))).toBe(2);
    expect(Math.max(...means) - Math.min(...means)).toBeGreaterThan(120);
  });

  test.skipIf(reason)('only pictures that stand alone are given where those are asked for', async () => {
    const pictures = await all(reader, await oddFilm(`${reader.name}-keys.mp4`), { keyOnly: true });
    // Which those are is the encoder's choice: at least every fifth, and where the picture changes as a whole.
    expect(pictures.length).toBeGreaterThanOrEqual(2);
    expect(pictures.length).toBeLessThan(TIMES.length);
    expect(pictures[0]?.startSeconds).toBeCloseTo(0.7, 2);
  });

  test.skipIf(reason)('sound alone is called blind', async () => {
    expect(await reader.open(await findSoundFile(fixture('tone.m4a')))).toMatchObject({ refused: 'blind' });
  });
});

test('colours as bright as grey stand out by the least of their parts', () => {
  expect([...leastOfColours(Uint8Array.from([150, 150, 150, 0, 200, 200, 255, 255, 0]))]).toEqual([
    150, 0, 0,
  ]);
});
