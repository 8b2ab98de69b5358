import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { listEntries, resultsFolder } from '../../src/cache/entries.ts';
import { openCache } from '../../src/cache/open-cache.ts';
import { newCacheFolder } from '../own-cache.ts';
import { critsheet, inFolder } from './run-command.ts';

const SPEECH = fileURLToPath(new URL('../fixtures/speech/mahrt-bobby.wav', import.meta.url));

let cache: string;
beforeEach(() => {
  cache = newCacheFolder();
  vi.stubEnv('CRITSHEET_CACHE', cache);
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(cache, { recursive: true, force: true });
});

async function fill(): Promise<void> {
  const kept = openCache();
  const schema = z.string();
  for (let n = 0; n < 3; n++)
    await kept.put({ name: 'transcript', version: 1, schema }, { n }, 'x'.repeat(900_000));
  await kept.put({ name: 'counter', version: 1, schema }, {}, 'x');
}

describe('cache', () => {
  it('shows how much is kept, of what, and where', async () => {
    await fill();
    const { code, out, err } = await critsheet(['cache']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^counter +1 +4 kB +frame counters$/m);
    expect(out).toMatch(/^transcript +3 +3 MB +words of whole recordings$/m);
    expect(out).toContain(`\n4 results, 3 MB in ${resultsFolder(cache)}, of 1000 MB at most;`);
  });

  it('shows it to programs with --json', async () => {
    await fill();
    const { out } = await critsheet(['cache', '--json']);
    expect(JSON.parse(out)).toMatchObject({
      folder: resultsFolder(cache),
      count: 4,
      mostBytes: 1e9,
      kinds: [
        { kind: 'counter', count: 1, bytes: 4096 },
        { kind: 'transcript', count: 3 },
      ],
    });
  });

  it('says that it is empty', async () => {
    const { code, out } = await critsheet(['cache']);
    expect(code).toBe(0);
    expect(out).toMatch(/^0 results, 0 kB in /);
  });

  it('clear removes all of it, and nothing else', async () => {
    await fill();
    const own = join(resultsFolder(cache), 'transcript', 'my notes.txt');
    writeFileSync(own, 'mine');
    mkdirSync(join(cache, 'results', 'kept by me'));
    const { code, out } = await critsheet(['cache', 'clear']);
    expect(code).toBe(0);
    expect(out).toBe(`removed: 4 results, 3 MB in ${resultsFolder(cache)}\n`);
    expect(await listEntries(resultsFolder(cache))).toEqual([]);
    expect(await readdir(join(own, '..'))).toEqual(['my notes.txt']);
    expect((await readdir(cache)).sort()).toEqual(['models', 'results']);
    expect((await critsheet(['cache', 'clear'])).out).toMatch(/^removed: 0 results/);
  });
});

/** What a run said, without how long it took. */
const untimed = <T extends { err: string }>(run: T): T => ({
  ...run,
  err: run.err.replace(/^critsheet: [\d.]+ s: .*\n/m, ''),
});

describe.each(['read', 'transcribe'])('%s', (command) => {
  it('keeps what it heard, and with --no-cache neither keeps nor takes anything', { timeout: 300_000 }, () =>
    inFolder(async (folder) => {
      const args = [command, SPEECH, '--model', 'moonshine-tiny', '--json'];
      const alone = await critsheet([...args, '--no-cache', '--verbose']);
      expect(alone.code).toBe(0);
      expect(await readdir(cache)).toEqual(['models']);
      const first = await critsheet([...args, '--verbose']);
      expect(untimed(first)).toEqual(untimed(alone));
      expect(first.err).toContain('hearing the words');
      const again = await critsheet([...args, '--verbose']);
      expect(again.out).toBe(first.out);
      expect(again.err).not.toContain('hearing the words');
      expect((await critsheet([...args, '--no-cache', '--verbose'])).err).toContain('hearing the words');
      expect(await readdir(folder)).toEqual([]);
    }),
  );

  it('says where it could not keep it, and writes its result all the same', {
    timeout: 300_000,
  }, async () => {
    writeFileSync(join(cache, 'results'), 'in the way');
    const { code, out, err } = await critsheet([command, SPEECH, '--model', 'moonshine-tiny', '--json']);
    expect(code).toBe(0);
    expect(JSON.parse(out).recording.file).toBe('mahrt-bobby.wav');
    expect(err).toMatch(/^critsheet: What was heard could not be kept in .*\n$/);
  });
});
