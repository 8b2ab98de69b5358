import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { makeRecordings } from './many/make-recordings.ts';

/**
 * Measures how well many recordings fill the machine: `npm run bench:many -- --recordings 40 --minutes 3`.
 *
 * One is read by itself, in a process of its own, which gives its cost in seconds of the processor. All are then read by one
 * command. The share is what was read against what the cores could read at that cost if they did nothing else. `--at-once N`
 * is handed on.
 */
const { values } = parseArgs({
  options: {
    recordings: { type: 'string', default: '40' },
    minutes: { type: 'string', default: '3' },
    'at-once': { type: 'string' },
    model: { type: 'string', default: 'moonshine-base' },
  },
});
const count = Number(values.recordings);
const minutes = Number(values.minutes);

const figuresSchema = z.object({
  code: z.number(),
  seconds: z.number(),
  cpuSeconds: z.number(),
  bytes: z.number(),
});
type Figures = z.infer<typeof figuresSchema>;

const ALONE = join(import.meta.dirname, 'many', 'run-alone.ts');

function critsheet(...args: string[]): Promise<Figures> {
  const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), ALONE, ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
    // A cache of its own: what an earlier reading kept would make the first one look quick.
    env: { ...process.env, CRITSHEET_CACHE: join(folder, 'cache') },
  });
  let out = '';
  child.stdout.on('data', (piece) => {
    out += piece;
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', () => {
      const figures = figuresSchema.parse(JSON.parse(out.trimEnd().split('\n').at(-1) ?? ''));
      if (figures.code !== 0) reject(new Error(`critsheet ${args.join(' ')} failed:\n${out}`));
      else resolve(figures);
    });
  });
}

const say = (what: string, { seconds, cpuSeconds, bytes }: Figures) =>
  console.log(
    `${what}: ${seconds.toFixed(1)} s by the clock, ${cpuSeconds.toFixed(1)} s of the processor, ${(bytes / 1e6).toFixed(0)} MB at most`,
  );

const folder = await mkdtemp(join(tmpdir(), 'critsheet-many-'));
try {
  const takes = join(folder, 'takes');
  await mkdir(takes);
  const [first = ''] = await makeRecordings(takes, count, minutes);
  const cores = availableParallelism();
  console.log(`${count} recordings of ${minutes} minutes, ${cores} cores, load ${loadavg()[0]?.toFixed(1)}`);
  const model = ['--model', values.model];
  const atOnce = values['at-once'] ? ['--at-once', values['at-once']] : [];
  await critsheet('models', 'prepare', values.model);
  const one = await critsheet('read', first, ...model, '--no-cache', '--out', join(folder, 'one'));
  say('one by itself', one);
  const all = ['read', takes, ...model, ...atOnce, '--out', join(folder, 'all')];
  const many = await critsheet(...all);
  say(`all ${count}`, many);
  const shareByClock = (count * one.cpuSeconds) / (cores * many.seconds);
  const shareByProcessor = (count * one.cpuSeconds) / many.cpuSeconds;
  console.log(
    `share of what the cores could do: ${shareByClock.toFixed(2)} by the clock; by the processor's seconds, which other work on the machine changes little, ${shareByProcessor.toFixed(2)}`,
  );
  // The language stages are run each time, so this is also what a change of the lexicons costs.
  const again = await critsheet(...all);
  say('again, from what was kept', again);
  const part = (kind: 'seconds' | 'cpuSeconds') => ((100 * again[kind]) / many[kind]).toFixed(1);
  console.log(
    `${part('seconds')} % of the first reading by the clock, ${part('cpuSeconds')} % of its processor time`,
  );
} finally {
  await rm(folder, { recursive: true, force: true });
}
