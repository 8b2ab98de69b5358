import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { readListenedWords } from '../../../src/language/listened-words.ts';
import { listenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { transcribe } from '../../../src/transcript/transcribe.ts';
import { clips, readSamples, recordingOf, SPEECH } from '../../bench/clips.ts';
import { spokenWords } from '../../bench/spoken-words.ts';
import { addErrors, countErrors, wordErrorRate } from '../../bench/word-error-rate.ts';

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
const hear = async (name: string, wanted = trade) => {
  const recording = recordingOf(`${name}.wav`, readSamples(join(SPEECH, `${name}.wav`)));
  const { transcript } = await transcribe(recording, { listenFor: wanted });
  return spokenWords(transcript.words.map(({ text }) => text).join(' ')).join(' ');
};

describe('words that are listened for', () => {
  it.each([
    { clip: 'trade-tail', plain: 'and the pale tip', listened: 'and the tail tip' },
    { clip: 'trade-mouth', plain: "the man's now the bit", listened: "the man's mouth a bit" },
    { clip: 'trade-curve', plain: 'curving the spine', listened: 'curve in the spine' },
  ])(
    'are heard where the likeliest text is another: $clip',
    { timeout: 60_000 },
    async ({ clip, plain, listened }) => {
      expect(await hear(clip, { phrases: [] })).toContain(plain);
      expect(await hear(clip)).toContain(listened);
    },
  );

  it('are not heard in talk without them', { timeout: 120_000 }, async () => {
    const known = new Set(trade.phrases.flatMap(({ text }) => spokenWords(text)));
    const counts = { plain: [], listened: [] } as Record<string, ReturnType<typeof countErrors>[]>;
    for (const { name, text } of clips(/^(librivox|lj|mfa|riva)/)) {
      const said = spokenWords(text);
      const heard = (await hear(name)).split(' ');
      const without = (await hear(name, { phrases: [] })).split(' ');
      const isNew = (word: string) => known.has(word) && !said.includes(word) && !without.includes(word);
      expect(heard.filter(isNew)).toEqual([]);
      counts.listened?.push(countErrors(said, heard));
      counts.plain?.push(countErrors(said, without));
    }
    const rate = (which: string) => wordErrorRate(addErrors(counts[which] ?? []));
    expect(rate('listened')).toBeLessThanOrEqual(rate('plain') + 0.005);
  });
});
