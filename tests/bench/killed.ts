import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { seededRandom } from '../../samples/sound.ts';
import { newCacheFolder } from '../own-cache.ts';
import { visibleFiles, WatchedFolder } from './killed/watched-folder.ts';
import { makeRecordings } from './many/make-recordings.ts';

/**
 * Kills `critsheet read` at random moments, once with one recording and once with a folder of several, and reads again:
 * `npm run bench:killed -- --kills 20 --minutes 3 --recordings 3 --seed 1`.
 *
 * Each time the cache and the folder begin empty. Every second kill falls anywhere within the time that an undisturbed reading takes, the
 * others on a moment when a file is just being written, which chance alone would seldom meet. Exit code 1 where a sheet came
 * out otherwise than undisturbed, or anything but whole files was seen in the folder.
 */
const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '20' },
    minutes: { type: 'string', default: '3' },
    recordings: { type: 'string', default: '3' },
    seed: { type: 'string', default: '1' },
    model: { type: 'string', default: 'moonshine-tiny' },
  },
});
const FORMATS = 'json,md,html,csv,otio';
/** A file is written within so long after something new is seen. */
const WRITING_MILLISECONDS = 6;
const MAIN = join(import.meta.dirname, '..', '..', 'src', 'main.ts');
const random = seededRandom(Number(values.seed));

interface Ended {
  /** The exit code; null where it was killed. */
  readonly code: number | null;
  readonly milliseconds: number;
  readonly strange: readonly string[];
  readonly looks: number;
}

/** When to kill: after so many milliseconds, or so many after the so-manieth new thing was seen in the folder. */
type Kill = { readonly after: number } | { readonly thing: number; readonly later: number };

/** Reads in a process of its own while the folder is watched. */
function read(
  what: string,
  out: string,
  cache: string,
  right: ReadonlyMap<string, string>,
  kill?: Kill,
): Promise<Ended> {
  const args = ['read', what, '--out', out, '--as', FORMATS, '--model', values.model];
  const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), MAIN, ...args], {
    env: { ...process.env, CRITSHEET_CACHE: cache },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (piece) => {
    said += piece;
  });
  const began = performance.now();
  const end = (): boolean => child.kill('SIGKILL');
  let things = 0;
  const watched = new WatchedFolder(out, right, () => {
    things++;
    if (kill && 'thing' in kill && things === kill.thing) setTimeout(end, kill.later);
  });
  watched.start();
  const timer = kill && 'after' in kill ? setTimeout(end, kill.after) : undefined;
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => {
      clearTimeout(timer);
      watched.stop();
      if (code !== null && code !== 0) reject(new Error(`critsheet ${args.join(' ')} failed:\n${said}`));
      const { strange, looks } = watched;
      resolve({ code, milliseconds: performance.now() - began, strange: [...strange], looks });
    });
  });
}

/** What differs between what was written and what should have been. */
function differences(right: ReadonlyMap<string, string>, files: ReadonlyMap<string, string>): string[] {
  const names = new Set([...right.keys(), ...files.keys()]);
  return [...names].filter((name) => right.get(name) !== files.get(name));
}

async function killAndRead(what: string, title: string, folder: string): Promise<number> {
  const caches: string[] = [];
  const newCache = (): string => {
    const cache = newCacheFolder();
    caches.push(cache);
    return cache;
  };
  const undisturbed = join(folder, `${title}-undisturbed`);
  // Before anything is known to be right nothing can be strange: the second reading, of another cache, is held against the first.
  const first = await read(what, undisturbed, newCache(), new Map());
  const right = visibleFiles(undisturbed);
  // The quickest of those that nobody disturbed: a machine that gets less busy is done before a later kill.
  let whole = first.milliseconds;
  let faults = 0;
  let killed = 0;
  let looks = 0;
  let written = 0;
  for (let turn = 0; killed < Number(values.kills) && turn < 2 * Number(values.kills); turn++) {
    const out = join(folder, `${title}-${turn}`);
    const cache = newCache();
    const kill: Kill =
      turn % 2 === 0
        ? { after: random() * whole }
        : {
            // Each file is seen twice, under its hidden name and under its own.
            thing: 1 + Math.floor(random() * 2 * right.size),
            later: random() * WRITING_MILLISECONDS,
          };
    const stopped = await read(what, out, cache, right, kill);
    if (stopped.code === null) killed++;
    else whole = Math.min(whole, stopped.milliseconds);
    const between = visibleFiles(out).size;
    if (stopped.code === null && between > 0 && between < right.size) written++;
    const again = await read(what, out, cache, right);
    const wrong = [
      ...[...stopped.strange, ...again.strange].map((one) => `seen: ${one}`),
      ...differences(right, visibleFiles(out)).map((name) => `not as undisturbed: ${name}`),
    ];
    looks += stopped.looks + again.looks;
    faults += wrong.length;
    const how = stopped.code === null ? `killed after ${seconds(stopped)}` : 'was done before the kill';
    console.log(
      `${title} ${turn + 1}: ${how}, ${between} of ${right.size} files there; again ${seconds(again)}; ${wrong.join('; ') || 'as undisturbed'}`,
    );
    await rm(out, { recursive: true, force: true });
    for (const one of caches.splice(0)) await rm(one, { recursive: true, force: true });
  }
  console.log(
    `${title}: undisturbed ${seconds(first)}, ${right.size} files; killed ${killed} times, ${written} of them between the first file and the last; ${looks} looks into the folder; ${faults} faults`,
  );
  return faults;
}

function seconds({ milliseconds }: Ended): string {
  return `${(milliseconds / 1000).toFixed(1)} s`;
}

const folder = await mkdtemp(join(tmpdir(), 'critsheet-killed-'));
try {
  const minutes = Number(values.minutes);
  const [alone, several] = [join(folder, 'alone'), join(folder, 'several')];
  for (const one of [alone, several]) await mkdir(one);
  const [recording = ''] = await makeRecordings(alone, 1, minutes);
  await makeRecordings(several, Number(values.recordings), minutes);
  console.log(
    `${values.minutes} minutes, ${values.recordings} in the folder, ${values.model}, seed ${values.seed}, load ${loadavg()[0]?.toFixed(1)}`,
  );
  const faults =
    (await killAndRead(recording, 'one', folder)) + (await killAndRead(several, 'folder', folder));
  if (faults > 0) process.exitCode = 1;
} finally {
  await rm(folder, { recursive: true, force: true });
}
