#!/usr/bin/env node
import { STOPPED } from './commands/exit-codes.ts';
import { run } from './commands/run.ts';
import { processScreen } from './commands/screen.ts';

/** How long the work may take to stop by itself before it is stopped for it: a stretch of speech is heard to its end. */
const GRACE_MILLISECONDS = 8000;

/** What shells expect of a program that a signal stopped. */
const EXIT_CODES = { SIGINT: STOPPED, SIGTERM: 143 } as const;

const stop = new AbortController();
let stopCode: number = STOPPED;
for (const [signal, code] of Object.entries(EXIT_CODES)) {
  const onSignal = () => {
    stopCode = code;
    // By the signal itself and not by an exit, which would take a model's memory away under a thread that still computes.
    const stopNow = () => {
      process.off(signal, onSignal);
      process.kill(process.pid, signal);
    };
    if (stop.signal.aborted) return stopNow();
    stop.abort();
    setTimeout(stopNow, GRACE_MILLISECONDS).unref();
  };
  process.on(signal, onSignal);
}
// A reader that went away, as in "critsheet read take.wav --json | head", is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

const code = await run(process.argv.slice(2), { screen: processScreen(), signal: stop.signal });
process.exitCode = code === STOPPED ? stopCode : code;
