import { isMainThread, Worker } from 'node:worker_threads';
import { z } from 'zod';
import { openCache } from '../../src/cache/open-cache.ts';

/** Writes the same three large results again and again, in two threads, until somebody kills this process. */
const cacheDir = process.argv[2];
if (!cacheDir) throw new Error('which folder?');
if (isMainThread) {
  // A thread does not take over what lets this process read TypeScript.
  const register = `import{register}from${JSON.stringify(import.meta.resolve('tsx/esm/api'))};register()`;
  new Worker(new URL(import.meta.url), {
    argv: [cacheDir],
    execArgv: ['--import', `data:text/javascript,${encodeURIComponent(register)}`],
  });
}
const cache = openCache({ cacheDir });
const kind = { name: 'lines', version: 1, schema: z.array(z.string()) };
for (let turn = 0; ; turn++) {
  const n = turn % 3;
  await cache.put(
    kind,
    { n },
    Array.from({ length: 20_000 }, (_, line) => `${n} ${line}`),
  );
  if (isMainThread && turn === 3) process.stdout.write('begun\n');
}
