import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { KeptKind } from '../../src/basics/kept.ts';
import { listEntries, resultsFolder } from '../../src/cache/entries.ts';
import { openCache } from '../../src/cache/open-cache.ts';

let cacheDir: string;
beforeEach(async () => {
  cacheDir = await mkdtemp(join(tmpdir(), 'critsheet-results-'));
});
afterEach(() => rm(cacheDir, { recursive: true, force: true }));

const LINES: KeptKind<string[]> = { name: 'lines', version: 1, schema: z.array(z.string()) };
const OF = { recording: 'ab12', model: { id: 'small', content: 'cd34' }, frames: [1, null] };
const SAID = ['the left heel', 'is skating'];

async function onlyFile(): Promise<string> {
  const [entry, ...more] = await listEntries(resultsFolder(cacheDir));
  expect(more).toEqual([]);
  if (!entry) throw new Error('nothing is kept');
  return entry.path;
}

describe('what was put', () => {
  it('is found again, by another process as well, however its ingredients were put together', async () => {
    await openCache({ cacheDir }).put(LINES, OF, SAID);
    const turned = { frames: [1, null], model: { content: 'cd34', id: 'small' }, recording: 'ab12' };
    expect(await openCache({ cacheDir }).get(LINES, turned)).toEqual(SAID);
  });

  it.each<[string, KeptKind<string[]>, typeof OF]>([
    ['another recording', LINES, { ...OF, recording: 'ab13' }],
    ['another model', LINES, { ...OF, model: { ...OF.model, content: 'cd35' } }],
    ['another order of a list', LINES, { ...OF, frames: [null, 1] as unknown as typeof OF.frames }],
    ['another version of the stage', { ...LINES, version: 2 }, OF],
    ['another stage', { ...LINES, name: 'other' }, OF],
  ])('is not found for %s', async (_, kind, of) => {
    const cache = openCache({ cacheDir });
    await cache.put(LINES, OF, SAID);
    expect(await cache.get(kind, of)).toBeUndefined();
    expect(await cache.get(LINES, OF)).toEqual(SAID);
  });

  it('is gone when it was dropped', async () => {
    const cache = openCache({ cacheDir });
    await cache.put(LINES, OF, SAID);
    await cache.drop(LINES, OF);
    expect(await cache.get(LINES, OF)).toBeUndefined();
  });

  it.skipIf(process.platform === 'win32')('can be read by nobody else on the machine', async () => {
    await openCache({ cacheDir }).put(LINES, OF, SAID);
    const modes = [join(cacheDir, 'results'), resultsFolder(cacheDir), join(await onlyFile(), '..')];
    for (const folder of modes) expect((await stat(folder)).mode & 0o777).toBe(0o700);
    expect((await stat(await onlyFile())).mode & 0o777).toBe(0o600);
  });
});

describe('an entry that is damaged counts as absent and is replaced', () => {
  it.each<[string, (text: string) => string]>([
    ['empty', () => ''],
    ['cut off', (text) => text.slice(0, -9)],
    ['cut off in its first line', (text) => text.slice(0, 40)],
    ['changed by a letter', (text) => text.replace('heel', 'keel')],
    ['filled with zeros', (text) => '\0'.repeat(text.length)],
    ['of another form', (text) => text.replace('critsheet-kept/1', 'critsheet-kept/2')],
    ['a whole entry of another stage', (text) => text.replace('"lines"', '"voice"')],
  ])('%s', async (_, damage) => {
    const cache = openCache({ cacheDir });
    await cache.put(LINES, OF, SAID);
    const path = await onlyFile();
    const text = await readFile(path, 'utf8');
    expect(damage(text)).not.toBe(text);
    await writeFile(path, damage(text));
    expect(await cache.get(LINES, OF)).toBeUndefined();
    await cache.put(LINES, OF, SAID);
    expect(await readFile(path, 'utf8')).toBe(text);
    expect(await cache.get(LINES, OF)).toEqual(SAID);
  });

  it('as one whose result no longer fits its stage', async () => {
    const cache = openCache({ cacheDir });
    await cache.put(LINES, OF, SAID);
    const numbers: KeptKind<number[]> = { ...LINES, schema: z.array(z.number()) };
    expect(await cache.get(numbers, OF)).toBeUndefined();
  });
});

describe('the bound', () => {
  const BLOCK = 4096;
  const mostBytes = 40 * BLOCK;
  const bytesKept = async () =>
    (await listEntries(resultsFolder(cacheDir))).reduce((sum, { bytes }) => sum + bytes, 0);

  it('is kept whoever writes, and what was used last stays', async () => {
    const caches = [openCache({ cacheDir, mostBytes }), openCache({ cacheDir, mostBytes })];
    const [cache] = caches;
    if (!cache) throw new Error('no cache');
    await cache.put(LINES, { entry: 'used' }, SAID);
    for (let i = 0; i < 150; i++) {
      await caches[i % 2]?.put(LINES, { entry: i }, SAID);
      expect(await cache.get(LINES, { entry: 'used' })).toEqual(SAID);
      expect(await bytesKept()).toBeLessThanOrEqual(mostBytes);
    }
    expect(await bytesKept()).toBeGreaterThan(0.8 * mostBytes);
    expect(await cache.get(LINES, { entry: 149 })).toEqual(SAID);
    expect(await cache.get(LINES, { entry: 0 })).toBeUndefined();
  });

  it('keeps out what is larger than all of it', async () => {
    const cache = openCache({ cacheDir, mostBytes });
    await cache.put(LINES, { entry: 'small' }, SAID);
    await cache.put(LINES, { entry: 'large' }, ['word'.repeat(mostBytes)]);
    expect(await cache.get(LINES, { entry: 'large' })).toBeUndefined();
    expect(await cache.get(LINES, { entry: 'small' })).toEqual(SAID);
  });

  it('counts what killed processes left, and removes it when it is old', async () => {
    const cache = openCache({ cacheDir, mostBytes });
    await cache.put(LINES, OF, SAID);
    const path = await onlyFile();
    const [young = '', old = ''] = ['0123abcd', '4567abcd'].map((end) =>
      join(dirname(path), `.${basename(path)}.${end}.part`),
    );
    for (const left of [young, old]) await writeFile(left, 'begun');
    await utimes(old, new Date(0), new Date(0));
    await openCache({ cacheDir, mostBytes }).put(LINES, { entry: 2 }, SAID);
    const left = (await listEntries(resultsFolder(cacheDir))).filter(({ whole }) => !whole);
    expect(left.map((entry) => entry.path)).toEqual([young]);
  });
});

describe('where nothing can be kept', () => {
  it('the work goes on, and that is said once', async () => {
    await writeFile(join(cacheDir, 'results'), 'in the way');
    const told: string[] = [];
    const cache = openCache({ cacheDir, onTrouble: (message) => void told.push(message) });
    await cache.put(LINES, OF, SAID);
    await cache.put(LINES, OF, SAID);
    expect(await cache.get(LINES, OF)).toBeUndefined();
    await cache.drop(LINES, OF);
    expect(told).toEqual([
      expect.stringMatching(
        /^What was heard could not be kept in .*results.* set CRITSHEET_CACHE to another\.$/,
      ),
    ]);
  });

  it('a folder that was cleared meanwhile is made again', async () => {
    const cache = openCache({ cacheDir });
    await cache.put(LINES, OF, SAID);
    await rm(join(cacheDir, 'results'), { recursive: true });
    await cache.put(LINES, OF, SAID);
    expect(await cache.get(LINES, OF)).toEqual(SAID);
  });
});

describe('processes and threads that write the same results at once', () => {
  it('and are killed at it leave whole entries or none', async () => {
    const script = fileURLToPath(new URL('write-until-killed.ts', import.meta.url));
    for (const wait of [10, 60, 150]) {
      const children = [1, 2].map(() =>
        spawn(process.execPath, ['--import', import.meta.resolve('tsx'), script, cacheDir]),
      );
      const closed = children.map((child) => once(child, 'close'));
      await Promise.all(children.map((child) => once(child.stdout, 'data')));
      await new Promise((later) => setTimeout(later, wait));
      for (const child of children) child.kill('SIGKILL');
      await Promise.all(closed);
      const entries = (await listEntries(resultsFolder(cacheDir))).filter(({ whole }) => whole);
      expect(entries.length).toBeGreaterThan(0);
      const cache = openCache({ cacheDir });
      for (let n = 0; n < 3; n++) {
        const there = (await readdir(join(resultsFolder(cacheDir), 'lines'))).length;
        expect(there).toBeGreaterThan(0);
        const found = await cache.get(LINES, { n });
        if (found) expect(found).toHaveLength(20_000);
      }
      // None was found damaged, for then it would be gone.
      const after = (await listEntries(resultsFolder(cacheDir))).filter(({ whole }) => whole);
      expect(after.length).toBe(entries.length);
    }
  });
});
