import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { type CounterReading, readCounter } from '../../../src/recording/counter/read-counter.ts';
import type { PictureReader } from '../../../src/recording/picture/picture.ts';
import { makeFilm, reasonForNoFilm, type Timed } from '../screen/film.ts';
import { COLOURS } from '../screen/picture.ts';
import { framesShown, type RecordedShot, screenPictures } from '../screen/recorded-shot.ts';
import { fixture, ownFolder } from '../sounds.ts';
import { scoreCounter } from './score-counter.ts';

const { folder } = ownFolder();
const reason = await reasonForNoFilm();
if (reason) console.warn(reason);

/** A shot that stands, plays, loops, is dragged and stepped; its counter in a box, low on the left. */
const RECORDED: RecordedShot = {
  width: 640,
  height: 360,
  shot: { fps: 24, first: 1001, last: 1096 },
  rate: 30,
  moves: [
    { does: 'stand', seconds: 1 },
    { does: 'play', seconds: 2 },
    { does: 'stand', seconds: 1 },
    { does: 'scrub', seconds: 0.8, to: 1020 },
    { does: 'stand', seconds: 0.6 },
    { does: 'step', seconds: 0.5, by: 1 },
    { does: 'step', seconds: 0.5, by: 1 },
    { does: 'play', seconds: 1.2 },
  ],
  counter: {
    font: 'arimo',
    pixels: 22,
    colour: COLOURS.white,
    box: { colour: COLOURS.black, opacity: 0.8 },
    x: 40,
    y: 290,
    shows: 'frame',
  },
};

async function film(name: string, recorded: RecordedShot, lateSeconds = 0): Promise<string> {
  const path = join(folder, name);
  async function* later(): AsyncGenerator<Timed> {
    for await (const { seconds, picture } of screenPictures(recorded)) {
      yield { seconds: seconds + lateSeconds, picture };
    }
  }
  await makeFilm(path, later(), {
    ...recorded,
    tone: { startSeconds: 0, seconds: framesShown(recorded).length / recorded.rate },
  });
  return path;
}

function share(recorded: RecordedShot, reading: CounterReading, lateSeconds = 0) {
  const truth = framesShown(recorded).map(({ seconds, frame }) => ({
    seconds: seconds + lateSeconds,
    frame,
  }));
  const { pictures, read, near } = scoreCounter(truth, reading);
  return { read: read / pictures, near: near / pictures };
}

describe.skipIf(reason)('a counter in the picture', () => {
  const { shot } = RECORDED;
  let path = '';
  beforeAll(async () => {
    path = await film('boxed.mp4', RECORDED);
  });

  test('is found, read through playing, dragging and stepping, and told in a sentence', async () => {
    const reading = await readCounter(path, { shot });
    expect(reading.problems).toEqual([]);
    const { read, near } = share(RECORDED, reading);
    expect(read).toBeGreaterThanOrEqual(0.99);
    expect(near).toBeGreaterThanOrEqual(0.99);
    expect(reading.region?.x).toBeGreaterThan(25);
    expect(reading.region?.x).toBeLessThan(45);
    expect(reading.summary).toMatch(
      /^A counter was read at .* taken for frame numbers of the shot in a shot of 1001 to 1096/,
    );
    for (const { start, end, source, confidence } of reading.passes) {
      expect(end).toBeGreaterThan(start);
      expect(source).toBe('counter');
      expect(confidence).toBeGreaterThan(0.5);
    }
  });

  test('is read in a region that is given', async () => {
    const reading = await readCounter(path, { shot, region: { x: 20, y: 260, width: 120, height: 45 } });
    expect(share(RECORDED, reading).read).toBeGreaterThanOrEqual(0.99);
  });

  test('is not looked for outside the picture', async () => {
    const { passes, problems } = await readCounter(path, {
      shot,
      region: { x: 600, y: 10, width: 80, height: 30 },
    });
    expect(passes).toEqual([]);
    expect(problems).toEqual([
      {
        stage: 'recording',
        message:
          "The counter's region 600,10,80,30 is not inside the picture, which is 640 pixels wide and 360 high: no counter was read.",
      },
    ]);
  });

  test('is not invented where the region holds something else', async () => {
    const { passes, problems } = await readCounter(path, {
      shot,
      region: { x: 0, y: 330, width: 640, height: 30 },
    });
    expect(passes).toEqual([]);
    expect(problems[0]?.message).toMatch(/^Nothing changes at 0,330,640,30, so no counter was read/);
  });

  test('is not believed where its numbers are not the shot’s', async () => {
    const { passes, problems } = await readCounter(path, { shot: { fps: 24, first: 5001, last: 5096 } });
    expect(passes).toEqual([]);
    expect(problems[0]?.message).toMatch(
      /^No counter was found in the pictures of boxed\.mp4: no numbers there run/,
    );
  });

  test('stops when it is told to', async () => {
    const stopped = readCounter(path, { shot, signal: AbortSignal.abort(new Error('enough')) });
    await expect(stopped).rejects.toThrow('enough');
  });
});

describe.skipIf(reason)('times', () => {
  test('are those of the sound where the pictures begin later', async () => {
    const recorded = { ...RECORDED, moves: RECORDED.moves.slice(0, 3) };
    const reading = await readCounter(await film('late.mp4', recorded, 1.5), { shot: recorded.shot });
    expect(reading.passes[0]?.start).toBeCloseTo(1.5, 2);
    expect(share(recorded, reading, 1.5).read).toBeGreaterThanOrEqual(0.99);
  });

  test('are those of each picture where the recorder left out pictures without change', async () => {
    const recorded: RecordedShot = {
      ...RECORDED,
      variable: true,
      counter: {
        font: 'robotoMono',
        pixels: 20,
        colour: COLOURS.black,
        box: { colour: COLOURS.white, opacity: 1 },
        x: 600,
        y: 60,
        align: 'right',
        shows: 'timecode',
      },
    };
    const reading = await readCounter(await film('variable.mkv', recorded), { shot: recorded.shot });
    expect(reading.summary).toContain("timecode from the shot's first frame");
    expect(share(recorded, reading).read).toBeGreaterThanOrEqual(0.98);
  });
});

describe.skipIf(reason)('a screen without a counter', () => {
  test('gives none, and says how to point at one', async () => {
    const recorded = { ...RECORDED, counter: null };
    const { passes, problems } = await readCounter(await film('bare.mp4', recorded), { shot: recorded.shot });
    expect(passes).toEqual([]);
    expect(problems.map(({ message }) => message)).toEqual([
      "No counter was found in the pictures of bare.mp4: no numbers there run as the shot's frames do " +
        '(give its place with --counter x,y,width,height).',
    ]);
  });
});

describe('a recording whose pictures cannot be had', () => {
  const shot = { fps: 24, first: 1001, last: null };
  const absent: PictureReader = {
    name: 'none',
    open: async () => ({ refused: 'absent', because: 'not installed' }),
  };

  test('for want of a reader, says what to install', async () => {
    const { problems } = await readCounter(fixture('silent-film.mp4'), { shot, pictureReaders: [absent] });
    expect(problems[0]?.message).toBe(
      'The pictures of silent-film.mp4 were not looked at, so no counter was read: ' +
        'install ffmpeg, or node-av with "npm install node-av".',
    );
  });

  test.skipIf(reason)('for want of pictures, says so', async () => {
    for (const name of ['tone.m4a', 'speech.wav']) {
      const { passes, problems } = await readCounter(fixture(name), { shot });
      expect(passes).toEqual([]);
      expect(problems[0]?.message).toBe(`${name} has no pictures in it, so no counter was read.`);
    }
  });

  test.skipIf(reason)('for damage, says so', async () => {
    const { problems } = await readCounter(fixture('unfinished.m4a'), { shot });
    expect(problems[0]?.message).toMatch(
      /^The pictures of unfinished\.m4a cannot be read \(.+\), so no counter was read\.$/,
    );
  });
});
