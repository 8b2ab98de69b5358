#!/usr/bin/env node
import { run, STOPPED } from './commands/run.ts';
import { processScreen } from './commands/screen.ts';

/** How long the work may take to stop by itself before it is stopped for it. */
const GRACE_MILLISECONDS = 3000;

/** What shells expect of a program that a signal stopped. */
const EXIT_CODES = { SIGINT: STOPPED, SIGTERM: 143 } as const;

const stop = new AbortController();
let stopCode: number = STOPPED;
for (const [signal, code] of Object.entries(EXIT_CODES)) {
  process.on(signal, () => {
    stopCode = code;
    if (stop.signal.aborted) process.exit(code);
    stop.abort();
    setTimeout(() => process.exit(code), GRACE_MILLISECONDS).unref();
  });
}
// A reader that went away, as in "critsheet read take.wav --json | head", is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

const code = await run(process.argv.slice(2), { screen: processScreen(), signal: stop.signal });
process.exitCode = code === STOPPED ? stopCode : code;
