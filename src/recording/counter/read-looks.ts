import { secondsToFrames } from '../../basics/time.ts';
import type { Watch } from '../recording.ts';
import { lineForReading } from './line.ts';
import type { Look } from './looks.ts';
import { frameOf, type Guess, guessMeaning, type ShotRange } from './meaning.ts';
import type { DigitReader, Reading } from './ocr.ts';

/** A look that was read, and which of all looks it is. */
export interface ReadLook {
  readonly index: number;
  readonly look: Look;
  readonly reading: Reading;
}

/** Looks at least so long are read: the shot stands, or is stepped. */
const STANDING_SECONDS = 0.12;
/** While the counter runs, one look in so many seconds is read. */
const SPACING_SECONDS = 0.3;
/** Frames by which a playing shot may miss its pace between two readings. */
const PACE_TOLERANCE = 1.2;

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
  let guess = guessMeaning([...readings.values()], shot);
  for (let more = doubtful(looks, readings, guess, shot); more.length > 0; ) {
    await readAll(more);
    // Where the shot starts again the extremes are read: only they tell counting from 0 and from 1 apart.
    guess = guessMeaning([...readings.values()], shot);
    more = doubtful(looks, readings, guess, shot);
  }
  const read = [...readings].sort(([a], [b]) => a - b);
  return {
    read: read.flatMap(([index, reading]) => {
      const look = looks[index];
      return look ? [{ index, look, reading }] : [];
    }),
    guess,
  };
}

/** The last look is read too: what lies between two readings is told by them, nothing else is. */
function firstChoice(looks: readonly Look[]): number[] {
  let lastSeconds = Number.NEGATIVE_INFINITY;
  return looks.flatMap(({ startSeconds, endSeconds }, index) => {
    const lasts = endSeconds - startSeconds >= STANDING_SECONDS;
    const isLast = index === looks.length - 1;
    if (!lasts && !isLast && startSeconds - lastSeconds < SPACING_SECONDS) return [];
    lastSeconds = startSeconds;
    return [index];
  });
}

/** The looks half way between neighbouring readings that leave open what stands between them. */
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
    if (next === undefined || next - index < 2) return [];
    const [a, b] = [index, next].map((at) => frameOf(readings.get(at)?.text ?? '', guess.meaning, shot));
    const seconds = (looks[next]?.startSeconds ?? 0) - (looks[index]?.endSeconds ?? 0);
    const steady =
      typeof a === 'number' && typeof b === 'number' && goesEvenly(b - a, next - index, seconds, shot.fps);
    return steady ? [] : [Math.floor((index + next) / 2)];
  });
}

/**
 * Whether the frame changes evenly from look to look: by ones, or by twos where the recorder is slower than the player,
 * which then keeps the shot's pace.
 */
function goesEvenly(change: number, looks: number, seconds: number, fps: number): boolean {
  const step = change / looks;
  const played = secondsToFrames(seconds, fps) + 1;
  return Math.abs(step) === 1 || (step === 2 && Math.abs(change - played) <= PACE_TOLERANCE);
}
