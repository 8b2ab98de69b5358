import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { listEntries, resultsFolder } from '../../src/cache/entries.ts';
import { readCritique } from '../../src/pipeline.ts';
import { SHEET_WRITERS } from '../../src/sheet/writers/writers.ts';
import { newCacheFolder } from '../own-cache.ts';
import { ownFolder } from '../recording/sounds.ts';
import { ofKind } from './noted-cache.ts';
import { writeTalk } from './talk.ts';

// Whole processes with a real speech model: slow, a minute or two.
const SLOW_MILLISECONDS = 900_000;
const KILLS = 6;
const MODEL = 'moonshine-tiny';

const { folder } = ownFolder();
const { path: TALK, clips } = writeTalk(folder, /synth|librivox-08[89]0|mahrt-(bobby|mary|damon)/);
const caches: string[] = [];
afterAll(() => {
  for (const cache of caches) rmSync(cache, { recursive: true, force: true });
});

function ownCache(): string {
  const cache = newCacheFolder();
  caches.push(cache);
  return cache;
}

interface Ended {
  /** "put region 12ab…": what was asked of the cache. */
  readonly lines: readonly string[];
  readonly code: number | null;
}

/** Reads the talk in a process of its own, which is killed a while after it has said so many lines. */
function readIn(
  cache: string,
  sheet: string,
  kill?: { afterLines: number; milliseconds: number },
): Promise<Ended> {
  const script = fileURLToPath(new URL('read-until-killed.ts', import.meta.url));
  const child = spawn(
    process.execPath,
    ['--import', import.meta.resolve('tsx'), script, TALK, sheet, MODEL],
    {
      env: { ...process.env, CRITSHEET_CACHE: cache },
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  const lines: string[] = [];
  const output = createInterface({ input: child.stdout });
  output.on('line', (line) => {
    lines.push(line);
    if (lines.length === kill?.afterLines) setTimeout(() => child.kill('SIGKILL'), kill.milliseconds);
  });
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ lines, code }));
  });
}

const asked = (lines: readonly string[], what: string) =>
  ofKind(
    lines.filter((line) => line.startsWith(`${what} `)).map((line) => line.slice(what.length + 1)),
    'region',
  );

describe('a reading that is killed again and again', () => {
  it('ends with the sheet of an undisturbed one, and hears no region twice', {
    timeout: SLOW_MILLISECONDS,
  }, async () => {
    const { sheet } = await readCritique(TALK, { model: MODEL });
    const undisturbed = SHEET_WRITERS.json?.write(sheet);
    const cache = ownCache();
    const file = join(folder, 'killed.sheet.json');
    const heard: string[] = [];
    let begun = 0;
    let killed = 0;
    let finished = false;
    for (let turn = 0; turn < KILLS; turn++) {
      // The first lines are of the recording and of where somebody speaks; then each region begins and ends with one.
      const kill = {
        afterLines: 1 + Math.floor(3 * (turn + Math.random())),
        milliseconds: Math.random() * 700,
      };
      const { lines, code } = await readIn(cache, file, kill);
      if (code === null) killed++;
      else finished = true;
      expect(existsSync(file)).toBe(finished);
      for (const region of asked(lines, 'missed')) expect(heard).not.toContain(region);
      begun += asked(lines, 'missed').length;
      heard.push(...asked(lines, 'put'));
    }
    expect(killed).toBeGreaterThan(0);
    const { lines, code } = await readIn(cache, file);
    expect(code).toBe(0);
    for (const region of asked(lines, 'missed')) expect(heard).not.toContain(region);
    begun += asked(lines, 'missed').length;
    heard.push(...asked(lines, 'put'));
    expect(readFileSync(file, 'utf8')).toBe(undisturbed);
    expect(new Set(heard).size).toBe(heard.length);
    // Each kill lost one region at the most, or the line that says that it was kept.
    expect(begun).toBeGreaterThanOrEqual(clips);
    expect(begun - heard.length).toBeLessThanOrEqual(killed);
    const entries = await listEntries(resultsFolder(cache));
    expect(entries.filter(({ whole }) => whole).map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['recording', 'transcript']),
    );
    expect(entries.filter(({ kind, whole }) => whole && kind === 'region')).toEqual([]);
  });
});

describe('two readings of one recording at once', () => {
  it('end with the same sheet', { timeout: SLOW_MILLISECONDS }, async () => {
    const cache = ownCache();
    const files = [1, 2].map((n) => join(folder, `${n}.sheet.json`));
    const ended = await Promise.all(files.map((file) => readIn(cache, file)));
    expect(ended.map(({ code }) => code)).toEqual([0, 0]);
    const [one, two] = files.map((file) => readFileSync(file, 'utf8'));
    expect(one).toBe(two);
    const again = await readIn(cache, files[0] ?? '');
    expect(asked(again.lines, 'missed')).toEqual([]);
    expect(again.lines.filter((line) => line.startsWith('found transcript '))).toHaveLength(1);
    expect(readFileSync(files[0] ?? '', 'utf8')).toBe(two);
  });
});
