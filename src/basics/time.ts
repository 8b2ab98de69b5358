import Timecode from 'smpte-timecode';
import { exactRate } from './rate.ts';

/** The one place that turns seconds and frames into each other and into what people and players read. */

const MS = 1000;

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}

/** Minutes, whole seconds and tenths for reading: 72.44 is "1:12.4"; minutes go on past 59. */
export function minutesStamp(seconds: number): string {
  const tenths = Math.round(Math.max(0, seconds) * 10);
  const whole = Math.floor(tenths / 10);
  return `${Math.floor(whole / 60)}:${twoDigits(whole % 60)}.${tenths % 10}`;
}

/** Minutes and seconds for a length: 402.6 is "6:43". */
export function lengthStamp(seconds: number): string {
  const whole = Math.round(Math.max(0, seconds));
  return `${Math.floor(whole / 60)}:${twoDigits(whole % 60)}`;
}

function clockStamp(seconds: number, beforeMilliseconds: string): string {
  const total = Math.round(Math.max(0, seconds) * MS);
  const whole = Math.floor(total / MS);
  const clock = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60].map(twoDigits).join(':');
  return `${clock}${beforeMilliseconds}${String(total % MS).padStart(3, '0')}`;
}

/** A WebVTT time: "00:01:12.440"; hours take as many digits as they need. */
export function vttStamp(seconds: number): string {
  return clockStamp(seconds, '.');
}

/** A SubRip time: "00:01:12,440"; hours take as many digits as they need. */
export function srtStamp(seconds: number): string {
  return clockStamp(seconds, ',');
}

/** How many frames pass in so many seconds, at the exact rate; not rounded. */
export function secondsToFrames(seconds: number, fps: number): number {
  const { frames, seconds: over } = exactRate(fps);
  return (seconds * frames) / over;
}

/** How many seconds so many frames last, at the exact rate. */
export function framesToSeconds(frames: number, fps: number): number {
  const { frames: rate, seconds: over } = exactRate(fps);
  return (frames * over) / rate;
}

/** Whether a timecode leaves numbers out to keep in step with the clock: 'drop' does, at 29.97 and 59.94 alone. */
export type TimecodeKind = 'non-drop' | 'drop';

/** The rates that drop numbers, by the numbers in their second. */
const DROPPING: readonly (number | null)[] = [30, 60];

/**
 * The timecode of a frame count, hours:minutes:seconds:frames, with a semicolon before the frames where numbers are
 * dropped: 41 at 24 is "00:00:01:17"; 1800 at 29.97 is "00:01:00:00", dropped "00:01:00;02".
 * @param frame frames since 00:00:00:00, rounded to a whole number
 * @returns null for a count below zero or of a day and more, for a rate that no timecode counts at (12.5, or above 99),
 *   and for 'drop' at a rate that drops no numbers
 */
export function timecodeOf(frame: number, fps: number, kind: TimecodeKind = 'non-drop'): string | null {
  const count = Math.round(frame);
  if (!hasTimecode(fps, kind) || !(count >= 0)) return null;
  const code = new Timecode(count, fractionOf(fps), kind === 'drop').toString();
  // After a day the library begins again at zero.
  return framesOfTimecode(code, fps) === count ? code : null;
}

/**
 * The frame count of a timecode, hours:minutes:seconds:frames with two digits each; a semicolon or full stop before the
 * frames says that numbers are dropped: "00:01:00;02" at 29.97 is 1800.
 * @returns null for what is no timecode, has more frames or minutes than there are, names a number that is dropped, or
 *   says that it drops numbers at a rate that drops none
 */
export function framesOfTimecode(text: string, fps: number): number | null {
  const separator = /^\d\d:\d\d:\d\d([:;.])\d\d$/.exec(text)?.[1];
  const kind = separator === ':' ? 'non-drop' : 'drop';
  if (!separator || !hasTimecode(fps, kind)) return null;
  try {
    return new Timecode(text, fractionOf(fps), kind === 'drop').frameCount;
  } catch {
    return null;
  }
}

/** The library would drop numbers at 23.976 too, which no standard knows, and guesses at rates such as 47.95. */
function hasTimecode(fps: number, kind: TimecodeKind): boolean {
  const { seconds, timecodeBase } = exactRate(fps);
  if (kind === 'non-drop') return timecodeBase !== null;
  return seconds === 1001 && DROPPING.includes(timecodeBase);
}

function fractionOf(fps: number): [number, number] {
  const { frames, seconds } = exactRate(fps);
  return [frames, seconds];
}
