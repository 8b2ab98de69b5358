import { describe, expect, it } from 'vitest';
import { frameTimecode, lengthStamp, minutesStamp, srtStamp, vttStamp } from '../../src/basics/time.ts';

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

describe('timecode', () => {
  it.each([
    [0, 24, '00:00:00:00'],
    [41, 24, '00:00:01:17'],
    [24, 24, '00:00:01:00'],
    [25 * 60 * 60 - 1, 25, '00:59:59:24'],
    [1799, 30, '00:00:59:29'],
    [1800, 30, '00:01:00:00'],
  ])('frame %d at %d is %s', (frame, fps, code) => expect(frameTimecode(frame, fps)).toBe(code));

  it('is not written for rates that are not whole, nor for frames before the shot', () => {
    expect(frameTimecode(10, 23.976)).toBeNull();
    expect(frameTimecode(-1, 24)).toBeNull();
  });
});
