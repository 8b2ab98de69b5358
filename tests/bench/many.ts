import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
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
/** What was kept of an earlier reading would make the first one look quick. */
const KEEPS_RESULTS = existsSync(join(import.meta.dirname, '..', '..', 'src', 'commands', 'cache.ts'));

function critsheet(...args: string[]): Promise<Figures> {
  const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), ALONE, ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
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
  const [first = ''] = await makeRecordings(folder, count, minutes);
  const cores = availableParallelism();
  console.log(`${count} recordings of ${minutes} minutes, ${cores} cores, load ${loadavg()[0]?.toFixed(1)}`);
  const model = ['--model', values.model];
  const fresh = KEEPS_RESULTS ? ['--no-cache'] : [];
  const one = await critsheet('read', first, ...model, ...fresh, '--out', join(folder, 'one'));
  say('one by itself', one);
  const atOnce = values['at-once'] ? ['--at-once', values['at-once']] : [];
  const many = await critsheet('read', folder, ...model, ...fresh, ...atOnce, '--out', join(folder, 'all'));
  say(`all ${count}`, many);
  const shareByClock = (count * one.cpuSeconds) / (cores * many.seconds);
  const shareByProcessor = (count * one.cpuSeconds) / many.cpuSeconds;
  console.log(
    `share of what the cores could do: ${shareByClock.toFixed(2)} by the clock; by the processor's seconds, which other work on the machine does not change, ${shareByProcessor.toFixed(2)}`,
  );
  if (KEEPS_RESULTS) {
    await critsheet('read', folder, ...model, ...atOnce, '--out', join(folder, 'kept'));
    const again = await critsheet('read', folder, ...model, ...atOnce, '--out', join(folder, 'kept'));
    say('again, from what was kept', again);
    console.log(
      `${((100 * again.cpuSeconds) / many.cpuSeconds).toFixed(1)} % of the first reading's processor time`,
    );
  }
} finally {
  await rm(folder, { recursive: true, force: true });
}
