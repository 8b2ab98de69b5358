import { describe, expect, it } from 'vitest';
import { exactRate } from '../../src/basics/rate.ts';
import {
  framesOfTimecode,
  framesToSeconds,
  lengthStamp,
  minutesStamp,
  secondsToFrames,
  srtStamp,
  timecodeOf,
  vttStamp,
} from '../../src/basics/time.ts';

describe('stamps for reading', () => {
  it.each([
    [0, '0:00.0'],
    [72.44, '1:12.4'],
    [59.96, '1:00.0'],
    [3600.5, '60:00.5'],
    [-1, '0:00.0'],
  ])('%d s is %s', (seconds, stamp) => expect(minutesStamp(seconds)).toBe(stamp));

  it.each([
    [402.6, '6:43'],
    [59.5, '1:00'],
  ])('a length of %d s is %s', (seconds, stamp) => expect(lengthStamp(seconds)).toBe(stamp));
});

describe('stamps for captions', () => {
  it.each([
    [0, '00:00:00.000'],
    [72.44, '00:01:12.440'],
    [1.0005, '00:00:01.001'],
    [59.9996, '00:01:00.000'],
    [360_000, '100:00:00.000'],
  ])('%d s is %s', (seconds, stamp) => {
    expect(vttStamp(seconds)).toBe(stamp);
    expect(srtStamp(seconds)).toBe(stamp.replace('.', ','));
  });
});

describe('rates', () => {
  // SMPTE ST 12-1 and its kin: the slowed rates are 1000/1001 of the whole ones (from memory).
  it.each([
    [23.976, 24000 / 1001],
    [23.98, 24000 / 1001],
    [24000 / 1001, 24000 / 1001],
    [24, 24],
    [25, 25],
    [29.97, 30000 / 1001],
    [30, 30],
    [47.952, 48000 / 1001],
    [48, 48],
    [50, 50],
    [59.94, 60000 / 1001],
    [60, 60],
    [12.5, 12.5],
  ])('%d means %d', (written, exact) => expect(exactRate(written).perSecond).toBe(exact));

  it('keep seconds and frames in step over an hour', () => {
    expect(framesToSeconds(86_400, 23.976)).toBeCloseTo(3603.6, 9);
    expect(secondsToFrames(3603.6, 23.976)).toBeCloseTo(86_400, 6);
    expect(secondsToFrames(1, 25)).toBe(25);
    for (const fps of [23.976, 24, 29.97, 59.94, 60]) {
      for (const frame of [0, 1, 41, 17982, 215784]) {
        expect(Math.round(secondsToFrames(framesToSeconds(frame, fps), fps))).toBe(frame);
      }
    }
  });

  it('are above nothing', () => expect(() => exactRate(0)).toThrow('no frame rate: 0'));
});

describe('timecode', () => {
  it.each([
    [0, 24, '00:00:00:00'],
    [41, 24, '00:00:01:17'],
    [24, 24, '00:00:01:00'],
    [24, 23.976, '00:00:01:00'],
    [25 * 60 * 60 - 1, 25, '00:59:59:24'],
    [1799, 30, '00:00:59:29'],
    [1800, 30, '00:01:00:00'],
    [1800, 29.97, '00:01:00:00'],
    [47, 48, '00:00:00:47'],
    [48, 47.952, '00:00:01:00'],
    [50, 50, '00:00:01:00'],
    [3600, 59.94, '00:01:00:00'],
    [3661, 60, '00:01:01:01'],
  ])('frame %d at %d is %s', (frame, fps, code) => {
    expect(timecodeOf(frame, fps)).toBe(code);
    expect(framesOfTimecode(code, fps)).toBe(frame);
  });

  // OpenTimelineIO's published tests of opentime, the drop-frame values.
  it.each([
    [1799, '00:00:59;29'],
    [1800, '00:01:00;02'],
    [17982, '00:10:00;00'],
    [215784, '02:00:00;00'],
  ])('frame %d with dropped numbers is %s', (frame, code) => {
    expect(timecodeOf(frame, 29.97, 'drop')).toBe(code);
    expect(framesOfTimecode(code, 29.97)).toBe(frame);
  });

  // The rule of ST 12-1, from memory: numbers 0 and 1 (at 59.94 also 2 and 3) are left out each minute but every tenth.
  it.each([
    [29.97, 30, 2],
    [59.94, 60, 4],
  ])('at %d counts every frame of an hour once, and leaves out what the rule says', (fps, base, dropped) => {
    let frame = 0;
    for (let second = 0; second < 3600; second++) {
      const leaves = second % 60 === 0 && (second / 60) % 10 !== 0 ? dropped : 0;
      for (let number = leaves; number < base; number++, frame++) {
        const two = (value: number) => String(value).padStart(2, '0');
        const code = `00:${two(Math.floor(second / 60))}:${two(second % 60)};${two(number)}`;
        if (timecodeOf(frame, fps, 'drop') !== code) expect(timecodeOf(frame, fps, 'drop')).toBe(code);
      }
    }
    expect(timecodeOf(frame, fps, 'drop')).toBe('01:00:00;00');
  });

  it('is not written for rates no timecode counts at, frames before zero, or after a day', () => {
    expect(timecodeOf(10, 12.5)).toBeNull();
    expect(timecodeOf(10, 120)).toBeNull();
    expect(timecodeOf(-1, 24)).toBeNull();
    expect(timecodeOf(24 * 86_400 - 1, 24)).toBe('23:59:59:23');
    expect(timecodeOf(24 * 86_400, 24)).toBeNull();
  });

  it('drops numbers at 29.97 and 59.94 alone', () => {
    for (const fps of [23.976, 24, 25, 30, 47.952, 50, 60]) expect(timecodeOf(10, fps, 'drop')).toBeNull();
  });

  it.each([
    ['00:00:00:24', 24],
    ['00:60:00:00', 24],
    ['00:01:00;00', 29.97],
    ['00:01:00;02', 24],
    ['25:00:00:00', 24],
    ['1:00:00:00', 24],
    ['1042', 24],
  ])('%s at %d is not one', (text, fps) => expect(framesOfTimecode(text, fps)).toBeNull());
});
