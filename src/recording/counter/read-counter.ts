import { untilAborted } from '../../basics/abort.ts';
import type { Pass } from '../../basics/pass.ts';
import type { Problem } from '../../basics/problem.ts';
import { openPictures } from '../picture/open-pictures.ts';
import type { Box, Grey, PictureReader, PictureTrack, Plane } from '../picture/picture.ts';
import type { Watch } from '../recording.ts';
import { findSoundFile } from '../sound-file.ts';
import { movesAsFramesDo } from './belief.ts';
import { findRegions, movedBy, type RankedRegion } from './find-region.ts';
import { type CounterRegion, withMargin } from './line.ts';
import { findLooks } from './looks.ts';
import type { ShotRange } from './meaning.ts';
import { type DigitReader, openDigitReader } from './ocr.ts';
import { passesOf } from './passes.ts';
import { readLooks } from './read-looks.ts';
import { differingPictures } from './samples.ts';
import { describeCounter } from './sentences.ts';
import { type SettledCounter, settleMeaning } from './settle.ts';
import { type TrackedLook, trackFrames } from './track.ts';

export interface CounterOptions extends Watch {
  /** Where the counter stands, in pixels of the picture from its upper left corner; found where not given. */
  readonly region?: Box | undefined;
  readonly shot: ShotRange;
  /** Other readers of pictures than the usual ones. */
  readonly pictureReaders?: readonly PictureReader[];
}

/** What a counter told. */
export interface CounterReading {
  /** In the order of their times; none where no counter was read. */
  readonly passes: readonly Pass[];
  /** What the counter showed, from change to change. */
  readonly shown: readonly TrackedLook[];
  /** Just round the digits, in pixels of the picture. */
  readonly region: Box | null;
  /** One sentence for the person: what was read and how sure; null where nothing was. */
  readonly summary: string | null;
  readonly problems: readonly Problem[];
  /** Whether the pictures were looked at; otherwise this machine cannot read them, or was not asked rightly. */
  readonly looked: boolean;
}

/** Raise it when the same pictures may give other passes or another summary. */
export const COUNTER_VERSION = 1;

/** Pictures looked at to find the counter: enough key pictures, or else pictures so far apart. */
const ENOUGH_KEYS = 16;
const LEAST_SPACING_SECONDS = 0.25;
const SPACINGS = 120;
/** Colours are looked at only where brightness shows no counter, or none that reads well. */
const PLANES: readonly Plane[] = ['brightness', 'whiteness'];
const SURE_FIT = 0.85;
/** Places that are followed through the whole recording before giving up. */
const MOST_TRIES = 2;
/** With fewer pictures that differ, nothing moved. */
const LEAST_PICTURES = 3;

/**
 * Reads the frame counter in the pictures of a screen recording, by character recognition and a most likely way through
 * what was recognised.
 * @param path the recording
 * @returns passes in seconds of the recording as its sound is timed, against frames of the shot; and a problem, in one
 *   sentence, wherever no counter could be read
 * @throws PersonError where there is no such file; the signal's reason when it is stopped
 */
export async function readCounter(path: string, options: CounterOptions): Promise<CounterReading> {
  const file = await findSoundFile(path);
  const track = await openPictures(file, options.pictureReaders);
  if (typeof track === 'string') return { ...nothing(track), looked: false };
  const { region: given } = options;
  if (given && !liesWithin(given, track)) {
    const unlike = nothing(
      `The counter's region ${given.x},${given.y},${given.width},${given.height} is not inside the picture, ` +
        `which is ${track.width} pixels wide and ${track.height} high: no counter was read.`,
    );
    return { ...unlike, looked: false };
  }
  const reader = await openDigitReader();
  try {
    return await readFrom(track, file.name, options, reader);
  } finally {
    await reader.close();
  }
}

async function readFrom(
  track: PictureTrack,
  name: string,
  options: CounterOptions,
  reader: DigitReader,
): Promise<CounterReading> {
  const { region: given, shot, signal, onProgress } = options;
  const where = given
    ? `at ${given.x},${given.y},${given.width},${given.height}`
    : `in the pictures of ${name}`;
  const regions: RankedRegion[] = [];
  for (const plane of PLANES) {
    const pictures = await samplesOf(track, plane, given, { signal });
    if (pictures.length < LEAST_PICTURES && regions.length === 0) {
      return nothing(`Nothing changes ${where}, so no counter was read.`);
    }
    regions.push(...(await untilAborted(findRegions(pictures, plane, shot, reader), signal)));
    regions.sort((a, b) => b.fit - a.fit);
    if ((regions[0]?.fit ?? 0) >= SURE_FIT) break;
  }
  onProgress?.(0.3);
  for (const { region } of regions.slice(0, MOST_TRIES)) {
    const inPicture = given ? movedBy(region, given) : region;
    const followed = await follow(track, inPicture, shot, reader, {
      signal,
      onProgress: (part) => onProgress?.(0.3 + 0.7 * part),
    });
    if (!followed || !movesAsFramesDo(followed.looks, followed.meaning, shot)) continue;
    const passes = passesOf(followed.looks, shot.fps);
    onProgress?.(1);
    return {
      passes,
      shown: followed.looks,
      region: inPicture.box,
      summary: describeCounter(inPicture.box, followed, passes, shot),
      problems: [],
      looked: true,
    };
  }
  return nothing(
    `No counter was found ${where}: no numbers there run as the shot's frames do` +
      `${given ? '' : ' (give its place with --counter x,y,width,height)'}.`,
  );
}

async function samplesOf(
  track: PictureTrack,
  plane: Plane,
  crop: Box | undefined,
  watch: Watch,
): Promise<Grey[]> {
  const spacing = Math.max(LEAST_SPACING_SECONDS, track.durationSeconds / SPACINGS);
  const request = { plane, watch, ...(crop ? { crop } : {}) };
  const keys = await differingPictures(track.pictures({ ...request, keyOnly: true }), 0);
  return keys.length >= ENOUGH_KEYS ? keys : differingPictures(track.pictures(request), spacing);
}

async function follow(
  track: PictureTrack,
  region: CounterRegion,
  shot: ShotRange,
  reader: DigitReader,
  watch: Watch,
): Promise<SettledCounter | null> {
  const pictures = track.pictures({ crop: withMargin(region, track), plane: region.plane, watch });
  const looks = await findLooks(pictures, track.durationSeconds);
  const { read, guess } = await readLooks(looks, region, shot, reader, { signal: watch.signal });
  return guess && settleMeaning(trackFrames(looks, read, guess.meaning, shot), guess.meaning, shot);
}

function liesWithin({ x, y, width, height }: Box, picture: PictureTrack): boolean {
  const whole = [x, y, width, height].every(Number.isInteger);
  return (
    whole &&
    x >= 0 &&
    y >= 0 &&
    width > 0 &&
    height > 0 &&
    x + width <= picture.width &&
    y + height <= picture.height
  );
}

function nothing(message: string): CounterReading {
  const problems = [{ stage: 'recording', message }];
  return { passes: [], shown: [], region: null, summary: null, problems, looked: true };
}
