/** The one place that turns seconds and frames into what people and players read. */

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

/**
 * The timecode of a frame count, hours:minutes:seconds:frames, without dropped numbers: 41 at 24 is "00:00:01:17".
 *
 * @param frame A whole number of frames from zero.
 * @returns null for a rate that is not whole or a count below zero, which this notation cannot write.
 */
export function frameTimecode(frame: number, fps: number): string | null {
  if (!Number.isInteger(fps) || fps <= 0 || frame < 0) return null;
  const count = Math.round(frame);
  const seconds = Math.floor(count / fps);
  const clock = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60, count % fps];
  return clock.map(twoDigits).join(':');
}
