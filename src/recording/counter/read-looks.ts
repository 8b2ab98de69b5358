import { secondsToFrames } from '../../basics/time.ts';
import type { Watch } from '../recording.ts';
import { lineForReading } from './line.ts';
import type { Look } from './looks.ts';
import { frameOf, type Guess, guessMeaning, type ShotRange } from './meaning.ts';
import type { DigitReader, Reading } from './ocr.ts';

/** A look that was read. */
export interface ReadLook {
  readonly look: Look;
  readonly reading: Reading;
}

/** Looks at least so long are read: the shot stands, or is stepped. */
const STANDING_SECONDS = 0.12;
/** While the counter runs, one look in so many seconds is read. */
const SPACING_SECONDS = 0.2;
/** Frames that two readings may be off from what playing would give: the recorder's own pace, and a hiccup. */
const PLAY_TOLERANCE = 1.6;

/**
 * Reads looks: those that last, a few of those that do not, and more where the numbers between two of them did not go
 * as playing or standing does.
 */
export async function readLooks(
  looks: readonly Look[],
  writing: { readonly bright: boolean; readonly digitPixels: number },
  shot: ShotRange,
  reader: DigitReader,
  watch: Watch = {},
): Promise<{ read: ReadLook[]; guess: Guess | null }> {
  const readings = new Map<number, Reading>();
  const readAll = async (indices: readonly number[]) => {
    for (const [done, index] of indices.entries()) {
      watch.signal?.throwIfAborted();
      const look = looks[index];
      if (!look || readings.has(index)) continue;
      readings.set(index, await reader.read(lineForReading(look.crop, writing.bright, writing.digitPixels)));
      watch.onProgress?.(done / indices.length);
    }
  };
  await readAll(firstChoice(looks));
  const guess = guessMeaning([...readings.values()], shot);
  for (let more = doubtful(looks, readings, guess, shot); more.length > 0; ) {
    await readAll(more);
    more = doubtful(looks, readings, guess, shot);
  }
  const read = [...readings].sort(([a], [b]) => a - b);
  return {
    read: read.flatMap(([index, reading]) => {
      const look = looks[index];
      return look ? [{ look, reading }] : [];
    }),
    guess,
  };
}

function firstChoice(looks: readonly Look[]): number[] {
  let lastSeconds = Number.NEGATIVE_INFINITY;
  return looks.flatMap(({ startSeconds, endSeconds }, index) => {
    const lasts = endSeconds - startSeconds >= STANDING_SECONDS;
    if (!lasts && startSeconds - lastSeconds < SPACING_SECONDS) return [];
    lastSeconds = startSeconds;
    return [index];
  });
}

/** The looks half way between neighbouring readings that do not go together. */
function doubtful(
  looks: readonly Look[],
  readings: ReadonlyMap<number, Reading>,
  guess: Guess | null,
  shot: ShotRange,
): number[] {
  if (!guess) return [];
  const indices = [...readings.keys()].sort((a, b) => a - b);
  return indices.flatMap((index, i) => {
    const next = indices[i + 1];
    const [from, to] = [looks[index], looks[next ?? -1]];
    if (next === undefined || next - index < 2 || !from || !to) return [];
    const [a, b] = [index, next].map((at) => frameOf(readings.get(at)?.text ?? '', guess.meaning, shot));
    const fits = typeof a === 'number' && typeof b === 'number' && goesOn(from, a, to, b, shot.fps);
    return fits ? [] : [Math.floor((index + next) / 2)];
  });
}

/** A look ends when the next frame appears: from then on the frames between were played. */
function goesOn(from: Look, a: number, to: Look, b: number, fps: number): boolean {
  const played = secondsToFrames(to.startSeconds - from.endSeconds, fps) + 0.5;
  return a === b || Math.abs(b - a - played) <= PLAY_TOLERANCE;
}
