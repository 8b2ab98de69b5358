import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Pass } from '../../src/basics/pass.ts';
import { shotSchema } from '../../src/basics/shot.ts';
import { playheadOf } from '../../src/notes/playhead/playhead.ts';
import { type OpenRecording, openRecording } from '../../src/recording/open-recording.ts';
import { readPasses } from '../../src/recording/read-passes.ts';
import { reasonForNoFilm } from './screen/film.ts';
import { ownFolder } from './sounds.ts';

const SAMPLE = join(import.meta.dirname, '..', '..', 'samples', 'puppet-audition');
const inSample = (name: string): string => join(SAMPLE, name);
const read = (name: string): unknown => JSON.parse(readFileSync(inSample(name), 'utf8'));
const shot = shotSchema.parse(read('shot.json'));
/** Where the sample's maker played the shot: seconds of the recording, and the frames heard. */
const segments = z
  .array(
    z.object({ start: z.number(), end: z.number(), frames: z.tuple([z.number(), z.number()]).optional() }),
  )
  .parse(read('segments.json'));
const script = z
  .object({ segments: z.array(z.object({ note: z.string().optional() })) })
  .parse(read('script.json'));
const begunOf = (note: string): number =>
  segments[script.segments.findIndex((segment) => segment.note === note)]?.start ?? Number.NaN;
const played = segments.flatMap(({ start, end, frames }) => (frames ? [{ start, end, frames }] : []));

/** Frames that passes may be off the maker's own at the middle of what was played; the target of bench:frames is one. */
const NEAR_FRAMES = 1.5;
const NOTHING_TOLD = { steps: [], named: [] };

function errorsOf(passes: readonly Pass[]): number[] {
  return played.map(({ start, end, frames }) => {
    const middle = (start + end) / 2;
    const pass = passes.find((one) => one.start <= middle && middle <= one.end);
    if (!pass) return Number.POSITIVE_INFINITY;
    const part = (middle - pass.start) / (pass.end - pass.start);
    return Math.abs(pass.first + part * (pass.last - pass.first) - (frames[0] + frames[1]) / 2);
  });
}

const noPictures = await reasonForNoFilm();
const { folder } = ownFolder();

describe.skipIf(noPictures !== null)('where the shot of a sample stood', () => {
  let recording: OpenRecording;
  beforeAll(async () => {
    recording = await openRecording(inSample('recording.mp3'));
  });

  it("is told by the shot's own sound", async () => {
    const { passes, problems } = await readPasses(
      inSample('recording.mp3'),
      recording,
      { shotSound: inSample('shot-sound.wav') },
      shot,
    );
    expect(problems).toEqual([]);
    for (const error of errorsOf(passes)) expect(error).toBeLessThanOrEqual(NEAR_FRAMES);
  });

  it("is told by a player's log, while it plays and while it stands", async () => {
    const sources = { playhead: inSample('playhead.csv') };
    const { passes, problems } = await readPasses(inSample('recording.mp3'), recording, sources, shot);
    expect(problems).toEqual([]);
    for (const error of errorsOf(passes)) expect(error).toBeLessThanOrEqual(NEAR_FRAMES);
    // The mentor stopped on 76 to talk of the owl's toes, as make-playing.ts has it.
    expect(playheadOf(passes, NOTHING_TOLD, shot).at(begunOf('n7') + 0.5)?.frame).toBe(76);
    // Half a minute of standing before the next row is no slow playing.
    expect(playheadOf(passes, NOTHING_TOLD, shot).at(begunOf('n1') + 0.5)?.frame).toBe(150);
  });

  it('is told by a counter in the picture', { timeout: 60_000 }, async () => {
    const screen = inSample('screen.mp4');
    const { passes, problems } = await readPasses(screen, recording, { counter: 'find' }, shot);
    expect(problems.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^A counter was read at /),
    ]);
    for (const error of errorsOf(passes)) expect(error).toBeLessThanOrEqual(NEAR_FRAMES);
  });

  it('stays unknown, with a sentence for each source that fails, and nothing is thrown', async () => {
    const silent = join(folder, 'silent.wav');
    writeFileSync(silent, readFileSync(inSample('shot-sound.wav')).fill(0, 44));
    const log = join(folder, 'log.csv');
    writeFileSync(log, 'time,frame\nsoon,12\n3,900\n');
    const { passes, problems } = await readPasses(
      inSample('recording.mp3'),
      recording,
      { shotSound: silent, playhead: log, counter: 'find' },
      shot,
    );
    expect(passes).toEqual([]);
    const told = problems.map(({ message }) => message).join('\n');
    expect(told).toMatch(/silent\.wav is silent/);
    expect(told).toMatch(/log\.csv has 1 row that cannot be read/);
    expect(told).toMatch(/log\.csv has 1 row outside the shot/);
  });

  it('stays unknown where a log tells of another time, which is said', async () => {
    const log = join(folder, 'yesterday.csv');
    writeFileSync(log, 'time,frame\n4000,12\n4100,30\n');
    const { problems } = await readPasses(inSample('recording.mp3'), recording, { playhead: log }, shot);
    expect(problems.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^yesterday\.csv begins at 4000 s, after the end of the recording/),
    ]);
  });

  it('cannot be looked for in words alone, which is said', async () => {
    const { problems } = await readPasses('talk.vtt', null, { counter: 'find' }, shot);
    expect(problems.map(({ message }) => message).join()).toMatch(/talk\.vtt holds words alone/);
  });
});
