import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { readListenedWords } from '../../../src/language/listened-words.ts';
import {
  LISTEN_FOR_NOTHING,
  type ListenFor,
  listenFor,
} from '../../../src/transcript/glossary/listen-for.ts';
import { transcribe } from '../../../src/transcript/transcribe.ts';
import { clips, recordingOf } from '../../bench/clips.ts';
import { listenedErrors } from '../../bench/listened-errors.ts';
import { spokenWords } from '../../bench/spoken-words.ts';
import { countErrors, wordErrorRate } from '../../bench/word-error-rate.ts';

let cache: string;
beforeAll(async () => {
  cache = await mkdtemp(join(tmpdir(), 'models-'));
  vi.stubEnv('CRITSHEET_CACHE', cache);
});
afterAll(async () => {
  vi.unstubAllEnvs();
  await rm(cache, { recursive: true, force: true });
});

const trade = listenFor({ trade: readListenedWords() });
/** So long that each clip is a region of its own. */
const PAUSE = 3.5 * 16_000;

/** Clips one after another, so that a model is loaded once for all of them; heard plainly, and with words listened for. */
async function hearBoth(names: RegExp) {
  const all = clips(names);
  const samples = all.flatMap(({ recording }) => [...recording.samples, ...new Float32Array(PAUSE)]);
  const recording = recordingOf('joined.wav', Float32Array.from(samples));
  const hear = async (wanted: ListenFor) => {
    const { transcript } = await transcribe(recording, { listenFor: wanted });
    return spokenWords(transcript.words.map(({ text }) => text).join(' '));
  };
  const said = spokenWords(all.map(({ text }) => text).join(' '));
  return { said, plain: await hear(LISTEN_FOR_NOTHING), listened: await hear(trade) };
}

describe('words that are listened for', () => {
  it('are heard where the likeliest text is another', { timeout: 240_000 }, async () => {
    const { said, plain, listened } = await hearBoth(/^trade/);
    const missed = (heard: string[]) => listenedErrors(said, heard, trade).misheard;
    expect(missed(plain)).toBeGreaterThanOrEqual(2);
    expect(missed(listened)).toBeLessThanOrEqual(missed(plain) / 2);
    expect(wordErrorRate(countErrors(said, listened))).toBeLessThan(wordErrorRate(countErrors(said, plain)));
  });

  it('may be names of nobody, which a list of them mends', { timeout: 240_000 }, async () => {
    const [clip] = clips(/^names/, join(import.meta.dirname, '..', '..', 'fixtures', 'names'));
    if (!clip) throw new Error('no names are spoken');
    const names = ['Quillon', 'Marrowby', 'Tess'];
    const hear = async (own?: string[]) => {
      const wanted = listenFor({ trade: readListenedWords(), own });
      const { transcript } = await transcribe(clip.recording, { listenFor: wanted });
      return transcript.words.map(({ text }) => text).join(' ');
    };
    const found = (heard: string) => names.filter((name) => heard.includes(name));
    expect(found(await hear())).not.toEqual(names);
    expect(found(await hear(names))).toEqual(names);
  });

  it('are not heard in talk without them', { timeout: 240_000 }, async () => {
    const { said, plain, listened } = await hearBoth(/^(librivox|lj|mfa|riva)/);
    const invented = (heard: string[]) => listenedErrors(said, heard, trade).invented;
    expect(said.length).toBeGreaterThan(140);
    expect(invented(listened)).toBeLessThanOrEqual(invented(plain));
    expect(wordErrorRate(countErrors(said, listened))).toBeLessThanOrEqual(
      wordErrorRate(countErrors(said, plain)) + 0.005,
    );
  });
});
