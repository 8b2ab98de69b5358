import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { notePictures } from '../../src/page/pictures/note-pictures.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { talk } from '../corrections/sheet-of.ts';
import { putSheet } from './pages.ts';

/** The colour in the middle of a picture that is a data address. */
async function colourOf(address: string | undefined): Promise<number[]> {
  const bytes = Buffer.from(address?.split(',')[1] ?? '', 'base64');
  const { data, info } = await sharp(bytes).raw().toBuffer({ resolveWithObject: true });
  const at = (Math.floor(info.height / 2) * info.width + Math.floor(info.width / 2)) * info.channels;
  return [...data.subarray(at, at + 3)];
}

const plain = (background: string) => sharp({ create: { width: 640, height: 360, channels: 3, background } });

describe('pictures beside notes', () => {
  it.each([
    ['by shot frame', 1042],
    ['from one on', 42],
  ])('are the frames of a folder numbered %s', (_, number) =>
    inFolder(async (folder) => {
      await plain('#00ff00')
        .png()
        .toFile(join(folder, `bk12.${String(number - 41).padStart(4, '0')}.png`));
      await plain('#ff0000')
        .png()
        .toFile(join(folder, `bk12.${String(number).padStart(4, '0')}.png`));
      const { pictures, problems } = await notePictures(talk(), folder);
      expect([...pictures.keys()]).toEqual(['n1']);
      const [red = 0, green = 255] = await colourOf(pictures.get('n1'));
      expect(red).toBeGreaterThan(240);
      expect(green).toBeLessThan(15);
      expect((pictures.get('n1') ?? '').length).toBeLessThan(12_000);
      expect(problems).toEqual([]);
    }),
  );

  it('are left out where the folder has no such frame, and that is told', () =>
    inFolder(async (folder) => {
      await plain('#00ff00').png().toFile(join(folder, 'bk12.1001.png'));
      const { pictures, problems } = await notePictures(talk(), folder);
      expect(pictures.size).toBe(0);
      expect(problems[0]?.message).toContain('1 of the notes with frames have no picture');
    }));

  it('come from a video too', async () => {
    const film = fileURLToPath(new URL('../fixtures/recording/silent-film.mp4', import.meta.url));
    const sheet = talk();
    const [note] = sheet.notes;
    if (!note?.frames) throw new Error('no frames');
    Object.assign(note.frames, { first: 1003, last: 1003 });
    const { pictures } = await notePictures(sheet, film);
    const bytes = Buffer.from(pictures.get('n1')?.split(',')[1] ?? '', 'base64');
    expect((await sharp(bytes).metadata()).width).toBe(320);
  });

  it('exits 1 for a folder without frames, and for what is no video', () =>
    inFolder(async (folder) => {
      const path = await putSheet(folder, talk(), false);
      const empty = join(folder, 'frames');
      await mkdir(empty);
      const none = await critsheet(['write', path, '--as', 'html', '--shot-picture', empty]);
      expect(none.code).toBe(1);
      expect(none.err).toContain('holds no pictures with a frame number');
      await writeFile(join(folder, 'film.mp4'), 'no film');
      const film = await critsheet([
        'write',
        path,
        '--as',
        'html',
        '--shot-picture',
        join(folder, 'film.mp4'),
      ]);
      expect(film.code).toBe(1);
      expect(film.err).toContain('film.mp4 cannot be read as a video');
      const alone = await critsheet(['write', path, '--as', 'md', '--shot-picture', empty]);
      expect(alone.err).toContain('--shot-picture is for the page: add --as html.');
    }));
});
