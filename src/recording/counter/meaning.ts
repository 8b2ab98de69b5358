import { framesOfTimecode, type TimecodeKind, timecodeOf } from '../../basics/time.ts';
import type { Reading } from './ocr.ts';

/** What is known of the shot: frames a second and its frame numbers, both ends included; `last` null where unknown. */
export interface ShotRange {
  readonly fps: number;
  readonly first: number;
  readonly last: number | null;
}

/** What a counter's numbers are: shot frames; frames counted from 1 or 0; timecode of the shot, or of the frame number. */
export const SHOWN = ['frames', 'from one', 'from zero', 'timecode', 'timecode of the frame number'] as const;
export type Shows = (typeof SHOWN)[number];

/** How a counter's digits and the shot's frames go together. */
export interface Meaning {
  readonly shows: Shows;
  /** Digits a number is filled up to with zeros in front; 0 for none. */
  readonly padTo: number;
  readonly timecode: TimecodeKind;
  /** The hour that the shot's timecode begins at. */
  readonly hour: number;
}

const TIMECODE_DIGITS = 8;
const MOST_DIGITS = 7;
/** A reading below this is not asked what the numbers mean. */
const SURE = 0.5;
/** Where the shot's end is not known, a shot of so many frames is allowed for. */
const LONGEST_SHOT = 20_000;

/** The digits that the counter shows for a frame of the shot, without signs between; null where it can show none. */
export function digitsOf(frame: number, meaning: Meaning, shot: ShotRange): string | null {
  const count = frame - shot.first;
  switch (meaning.shows) {
    case 'frames':
      return frame < 0 ? null : String(frame).padStart(meaning.padTo, '0');
    case 'from one':
      return count < -1 ? null : String(count + 1).padStart(meaning.padTo, '0');
    case 'from zero':
      return count < 0 ? null : String(count).padStart(meaning.padTo, '0');
    case 'timecode':
      return digitsIn(timecodeOf(count + hourFrames(meaning, shot), shot.fps, meaning.timecode));
    case 'timecode of the frame number':
      return digitsIn(timecodeOf(frame, shot.fps, meaning.timecode));
  }
}

/** The shot frame that a reading says, taken at its word; null where it says none. */
export function frameOf(text: string, meaning: Meaning, shot: ShotRange): number | null {
  const digits = digitsIn(text) ?? '';
  if (meaning.shows === 'timecode' || meaning.shows === 'timecode of the frame number') {
    if (digits.length !== TIMECODE_DIGITS) return null;
    const [hours, minutes, seconds, frames] = digits.match(/../g) ?? [];
    const sign = meaning.timecode === 'drop' ? ';' : ':';
    const count = framesOfTimecode(`${hours}:${minutes}:${seconds}${sign}${frames}`, shot.fps);
    if (count === null) return null;
    return meaning.shows === 'timecode' ? count - hourFrames(meaning, shot) + shot.first : count;
  }
  if (digits.length === 0 || digits.length > MOST_DIGITS) return null;
  const value = Number(digits);
  if (meaning.shows === 'frames') return value;
  return meaning.shows === 'from one' ? shot.first + value - 1 : shot.first + value;
}

/** A meaning, and how many of the sure readings it puts within the shot, 0 to 1. */
export interface Guess {
  readonly meaning: Meaning;
  readonly share: number;
  /** Sure readings that there were. */
  readonly readings: number;
}

/** Finds out what a counter shows by which meaning puts its numbers within the shot; the plainer where several do. */
export function guessMeaning(readings: readonly Reading[], shot: ShotRange): Guess | null {
  const sure = readings.filter(({ text, confidence }) => text.length > 0 && confidence >= SURE);
  if (sure.length === 0) return null;
  const padTo = paddingOf(sure);
  const timecode: TimecodeKind =
    2 * sure.filter(({ text }) => text.includes(';')).length > sure.length ? 'drop' : 'non-drop';
  const hour = hourOf(sure);
  let best: Guess | null = null;
  for (const shows of SHOWN) {
    const meaning: Meaning = { shows, padTo, timecode, hour };
    const within = sure.filter(({ text }) => {
      const frame = frameOf(text, meaning, shot);
      return frame !== null && frame >= shot.first && frame <= (shot.last ?? shot.first + LONGEST_SHOT);
    });
    const share = within.length / sure.length;
    if (!best || share > best.share) best = { meaning, share, readings: sure.length };
  }
  return best;
}

function digitsIn(text: string | null): string | null {
  return text?.replaceAll(/\D/g, '') ?? null;
}

function hourFrames({ hour, timecode }: Meaning, { fps }: ShotRange): number {
  const sign = timecode === 'drop' ? ';' : ':';
  return framesOfTimecode(`${String(hour).padStart(2, '0')}:00:00${sign}00`, fps) ?? 0;
}

/** The commonest length of the numbers that begin with a zero, if they are more than a few. */
function paddingOf(readings: readonly Reading[]): number {
  const filled = readings.map(({ text }) => digitsIn(text) ?? '').filter((digits) => /^0\d/.test(digits));
  return 4 * filled.length > readings.length ? (commonest(filled.map(({ length }) => length)) ?? 0) : 0;
}

function hourOf(readings: readonly Reading[]): number {
  const hours = readings
    .map(({ text }) => digitsIn(text) ?? '')
    .filter(({ length }) => length === TIMECODE_DIGITS)
    .map((digits) => Number(digits.slice(0, 2)));
  return Math.min(23, commonest(hours) ?? 0);
}

function commonest(values: readonly number[]): number | null {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}
