import { copyFileSync, cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { listEntries, resultsFolder } from '../../src/cache/entries.ts';
import { openCache } from '../../src/cache/open-cache.ts';
import { ENGLISH, loadLanguage } from '../../src/language/language.ts';
import { hearWords, makeSheetOf, type Progress } from '../../src/pipeline.ts';
import { readCounterOnce } from '../../src/recording/counter/kept-reading.ts';
import { openRecording } from '../../src/recording/open-recording.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { findShotPasses } from '../../src/recording/shot-sound.ts';
import { findVoice } from '../../src/recording/voice.ts';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { transcribe } from '../../src/transcript/transcribe.ts';
import { reasonForNoFilm } from '../recording/screen/film.ts';
import { ownFolder, voiceModel } from '../recording/sounds.ts';
import { noted, ofKind } from './noted-cache.ts';
import { writeTalk } from './talk.ts';

vi.mock('../../src/transcript/engines/open-engine.ts', async (original) => {
  const real = await original<typeof import('../../src/transcript/engines/open-engine.ts')>();
  return { openEngine: vi.fn(real.openEngine) };
});

const { folder } = ownFolder();
const MODEL = 'moonshine-tiny';
const { path: TALK, clips } = writeTalk(folder, /synth-(knee|lift)|librivox-0880/);

let { kept, asked } = noted(openCache());
beforeEach((context) => {
  const cacheDir = join(folder, context.task.id);
  mkdirSync(cacheDir);
  ({ kept, asked } = noted(openCache({ cacheDir })));
});
afterEach(() => void vi.mocked(openEngine).mockClear());

async function hear(path: string, model = MODEL) {
  const told: Progress[] = [];
  const heard = await hearWords(path, { kept, model, onProgress: (progress) => void told.push(progress) });
  return { ...heard, stages: [...new Set(told.map(({ stage }) => stage))], told };
}

describe('a recording that was heard', () => {
  it('is not decoded, searched for speech or heard again, and gives the same words', async () => {
    const first = await hear(TALK);
    expect(first.transcript.words.length).toBeGreaterThan(20);
    expect(first.stages).toEqual(['recording', 'model', 'voice', 'words']);
    const again = await hear(TALK);
    expect(again.transcript).toEqual(first.transcript);
    expect(again.problems).toEqual(first.problems);
    expect(again.stages).toEqual(['recording']);
    // A tenth is the checksum; the sound itself begins after it.
    expect(Math.max(...again.told.map(({ done }) => done))).toBeLessThanOrEqual(0.1);
    expect(openEngine).toHaveBeenCalledTimes(1);
    expect(ofKind(asked.put, 'region').length).toBeGreaterThanOrEqual(clips);
  });

  it('leaves one entry of its words and one of itself, and no steps', async (context) => {
    await hear(TALK);
    const entries = await listEntries(resultsFolder(join(folder, context.task.id)));
    expect(entries.map(({ kind }) => kind).sort()).toEqual(['recording', 'transcript']);
  });

  it('is known under another name, with problems that name it so', async () => {
    const clipped = join(folder, 'clipped.wav');
    const bytes = readFileSync(TALK);
    for (let at = 20_000; at < 60_000; at += 2) bytes.writeInt16LE(at % 200 < 100 ? 32767 : -32768, at);
    writeFileSync(clipped, bytes);
    const first = await hear(clipped);
    expect(first.problems[0]?.message).toMatch(/^clipped\.wav is clipped/);
    const renamed = join(folder, 'renamed.wav');
    copyFileSync(clipped, renamed);
    const again = await hear(renamed);
    expect(again.transcript.words).toEqual(first.transcript.words);
    expect(again.transcript.recording.file).toBe('renamed.wav');
    expect(again.problems[0]?.message).toMatch(/^renamed\.wav is clipped/);
    expect(again.stages).toEqual(['recording']);
  });

  it('is heard again by another model, and when a sample of it changed', async () => {
    const own = join(folder, 'short');
    mkdirSync(own);
    const short = writeTalk(own, /mahrt-bobby/).path;
    await hear(short);
    const other = await hear(short, 'moonshine-base');
    expect(other.stages).toContain('words');
    expect(other.transcript.model.id).toBe('moonshine-base');
    const bytes = readFileSync(short);
    bytes.writeInt16LE(bytes.readInt16LE(10_000) + 40, 10_000);
    writeFileSync(short, bytes);
    expect((await hear(short)).stages).toContain('words');
  });

  it('gives its words to changed lexicons without being heard again', async () => {
    const first = await hear(TALK);
    const words = join(folder, 'words');
    cpSync(ENGLISH, words, { recursive: true });
    const titles = join(words, 'titles.yaml');
    const changed = readFileSync(titles, 'utf8').replaceAll('Ease', 'Soften');
    writeFileSync(titles, changed);
    const again = await hear(TALK);
    expect(again.stages).toEqual(['recording']);
    const shot = shotSchema.parse({ name: 'sh010' });
    const before = await makeSheetOf(first.transcript, shot, loadLanguage());
    const after = await makeSheetOf(again.transcript, shot, loadLanguage(words));
    expect(after.notes.map(({ spans }) => spans)).toEqual(before.notes.map(({ spans }) => spans));
    expect(before.notes.length).toBeGreaterThan(0);
  });
});

describe('a hearing that was broken off', () => {
  it('goes on where it stopped; when every region is there, the recogniser is not even opened', async () => {
    const recording = await readRecording(TALK);
    const whole = await transcribe(recording, { model: MODEL });
    const stop = new AbortController();
    const broken = transcribe(recording, {
      kept,
      model: MODEL,
      signal: stop.signal,
      onProgress: ({ stage, fraction }) => {
        if (stage === 'words' && fraction > 0) stop.abort(new Error('enough'));
      },
    });
    await expect(broken).rejects.toThrow('enough');
    expect(ofKind(asked.put, 'region')).toHaveLength(1);

    const missed = ofKind(asked.missed, 'region').length;
    expect(await transcribe(recording, { kept, model: MODEL })).toEqual(whole);
    const regions = ofKind(asked.put, 'region').length;
    expect(ofKind(asked.missed, 'region').length - missed).toBe(regions - 1);
    expect(new Set(asked.put).size).toBe(asked.put.length);

    vi.mocked(openEngine).mockClear();
    expect(await transcribe(recording, { kept, model: MODEL })).toEqual(whole);
    expect(openEngine).not.toHaveBeenCalled();
  });

  it('finds where somebody speaks from piece to piece as in one go', async () => {
    const { samples } = await readRecording(TALK);
    const long = new Float32Array(150 * 16_000);
    for (let at = 0; at < long.length; at += samples.length)
      long.set(samples.subarray(0, long.length - at), at);
    const model = voiceModel('silero_vad_v5.onnx');
    const alone = await findVoice(long, model);
    expect(await findVoice(long, model, { kept })).toEqual(alone);
    expect(ofKind(asked.put, 'voice')).toHaveLength(2);
    expect(await findVoice(long, model, { kept })).toEqual(alone);
    expect(ofKind(asked.found, 'voice')).toHaveLength(2);
    // Another beginning has another second piece, though its sound is the same.
    await findVoice(long.fill(0, 0, 400), model, { kept });
    expect(ofKind(asked.put, 'voice')).toHaveLength(4);
  });
});

const noPictures = await reasonForNoFilm();

describe.skipIf(noPictures !== null)('where the shot stood', () => {
  const sample = join(import.meta.dirname, '..', '..', 'samples', 'puppet-audition');
  const shot = shotSchema.parse(JSON.parse(readFileSync(join(sample, 'shot.json'), 'utf8')));
  /** A recording that may not be decoded. */
  const closed = async (path: string) => ({
    ...(await openRecording(path, { kept })),
    read: () => Promise.reject(new Error('it was decoded')),
  });

  it("is not looked for again by the shot's sound, unless its frames changed", {
    timeout: 300_000,
  }, async () => {
    const recording = join(sample, 'recording.mp3');
    const sound = join(sample, 'shot-sound.wav');
    const first = await findShotPasses(await openRecording(recording), sound, shot, { kept });
    expect(first.passes.length).toBeGreaterThan(2);
    const again = await findShotPasses(await closed(recording), sound, shot, { kept });
    expect(again.passes).toEqual(first.passes);
    expect(again.problems).toEqual(first.problems);
    const other = findShotPasses(
      await closed(recording),
      sound,
      { ...shot, first: shot.first + 1 },
      { kept },
    );
    await expect(other).rejects.toThrow('it was decoded');
  });

  it('is not read again from its counter, unless it is looked for elsewhere', {
    timeout: 300_000,
  }, async () => {
    const screen = join(sample, 'screen.mp4');
    const first = await readCounterOnce(screen, await closed(screen), { kept, shot });
    expect(first.passes.length).toBeGreaterThan(2);
    expect(await readCounterOnce('nowhere.mp4', await closed(screen), { kept, shot })).toEqual(first);
    const region = { x: 0, y: 0, width: 5000, height: 5000 };
    const outside = await readCounterOnce(screen, await closed(screen), { kept, shot, region });
    expect(outside.problems[0]?.message).toMatch(/is not inside the picture/);
    // What could not be looked at is not kept.
    expect(ofKind(asked.put, 'counter')).toHaveLength(1);
  });
});
