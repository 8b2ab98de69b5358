import { appendFileSync, chmodSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { ffmpegDecoder } from '../../src/recording/decoders/ffmpeg.ts';
import { openRecording } from '../../src/recording/open-recording.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { findSoundFile } from '../../src/recording/sound-file.ts';
import { fixture, ownFolder } from './sounds.ts';
import { fmt, wav } from './wav-bytes.ts';

const { folder, write } = ownFolder();

async function refusalOf(path: string): Promise<string> {
  const error = await readRecording(path).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(PersonError);
  return (error as PersonError).message;
}

describe('what cannot be read is said in one sentence', () => {
  const data = { id: 'data', body: new Uint8Array(64) };

  test('no such file', async () => {
    expect(await refusalOf(join(folder, 'gone.wav'))).toBe(
      `There is no file ${join(folder, 'gone.wav')}: look at the name and the folder.`,
    );
  });

  test('a folder', async () => {
    mkdirSync(join(folder, 'takes.wav'));
    expect(await refusalOf(join(folder, 'takes.wav'))).toContain(
      'is a folder: give one recording inside it.',
    );
  });

  // Root may read everything, so the test becomes somebody else for a moment.
  test.skipIf(process.platform === 'win32')('a file that may not be read', async () => {
    const path = write('locked.wav', wav([fmt(1, 1, 16000, 16), data]));
    chmodSync(folder, 0o755);
    chmodSync(path, 0o000);
    const isRoot = process.geteuid?.() === 0;
    if (isRoot) process.seteuid?.(65534);
    try {
      expect(await refusalOf(path)).toContain('locked.wav may not be read: give yourself permission');
    } finally {
      if (isRoot) process.seteuid?.(0);
    }
  });

  test.each([
    ['empty.wav', new Uint8Array(0), 'empty.wav is empty (0 bytes): record or copy it again.'],
    [
      'notes.wav',
      'The knee pops at frame 42.\n',
      'notes.wav holds text, not sound: give the recording itself.',
    ],
    ['list.m4a', '#EXTM3U\nhttp://example.invalid/a.ts\n', 'list.m4a holds text, not sound'],
    ['wide.wav', Buffer.from('\ufeffheld', 'utf16le'), 'wide.wav holds text, not sound'],
    ['blank.wav', new Uint8Array(2000), 'blank.wav holds nothing but zeros: record or copy it again.'],
    ['nochannel.wav', wav([fmt(1, 0, 16000, 16), data]), 'its header says 0 channels'],
    ['norate.wav', wav([fmt(1, 1, 0, 16), data]), 'its header says 0 samples a second'],
    ['nofmt.wav', wav([data]), "its format ('fmt ') is missing"],
    ['nodata.wav', wav([fmt(1, 1, 16000, 16)]), 'ends before its sound begins'],
    ['header.wav', wav([fmt(1, 1, 16000, 16)]).subarray(0, 30), "its format ('fmt ') is missing"],
    ['nothing.wav', wav([fmt(1, 1, 16000, 16), { ...data, body: new Uint8Array(0) }]), 'no samples'],
    [
      'later.wav',
      wav([
        fmt(1, 1, 16000, 16),
        { id: 'data', body: new Uint8Array(0) },
        { id: 'LIST', body: new Uint8Array(90) },
      ]),
      'no samples',
    ],
  ])('%s', async (name, bytes, sentence) => {
    const message = await refusalOf(write(name, bytes));
    expect(message).toContain(sentence);
    expect(message).toContain(name);
  });

  test('a WAV with a codec nobody knows', async () => {
    const message = await refusalOf(write('odd.wav', wav([fmt(0x1234, 1, 16000, 16), data])));
    expect(message).toContain('odd.wav');
    expect(message).toContain('WAV (16-bit PCM)');
  });
});

describe('a long reading', () => {
  const long = wav([fmt(1, 1, 48000, 16), { id: 'data', body: new Uint8Array(48000 * 2 * 4) }]);

  test('tells how far it is, from 0 to 1, never backwards', async () => {
    const fractions: number[] = [];
    await readRecording(write('long.wav', long), { onProgress: (fraction) => fractions.push(fraction) });
    expect(fractions.length).toBeGreaterThan(3);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(fractions.at(-1)).toBe(1);
  });

  test('stops when it is told to, before and in the middle', async () => {
    const path = write('stopped.wav', long);
    await expect(readRecording(path, { signal: AbortSignal.abort() })).rejects.toThrow('aborted');
    const stop = new AbortController();
    const onProgress = (fraction: number) => {
      if (fraction > 0.2) stop.abort();
    };
    await expect(readRecording(path, { signal: stop.signal, onProgress })).rejects.toThrow('aborted');
  });

  test('of a file that somebody changes meanwhile is refused, so that no sound goes under a wrong checksum', async () => {
    const path = write('growing.wav', long);
    const opened = await openRecording(path);
    appendFileSync(path, 'more');
    await expect(opened.read()).rejects.toThrow(
      /^growing\.wav changed while it was read: wait until it is whole, and read it again\.$/,
    );
  });

  test('stops an ffmpeg that hangs', async () => {
    const bin = write('ffmpeg', '#!/bin/sh\nexec sleep 60\n');
    chmodSync(bin, 0o755);
    vi.stubEnv('PATH', `${folder}:${process.env.PATH}`);
    try {
      const file = await findSoundFile(fixture('tone.mp3'));
      const started = performance.now();
      await expect(ffmpegDecoder.decode(file, { signal: AbortSignal.timeout(200) })).rejects.toThrow(
        /timeout|aborted/,
      );
      expect(performance.now() - started).toBeLessThan(4000);
    } finally {
      vi.unstubAllEnvs();
    }
  });
});
