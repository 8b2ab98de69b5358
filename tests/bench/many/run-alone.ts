import { run } from '../../../src/commands/run.ts';
import { processScreen } from '../../../src/commands/screen.ts';

/**
 * Runs critsheet with the arguments it is given, and prints what that took as the last line, as JSON: seconds by the clock,
 * seconds of the processor in all threads, and the most memory in bytes. Apart, so that nothing else is counted.
 */
const started = performance.now();
const code = await run(process.argv.slice(2), {
  screen: processScreen(),
  signal: new AbortController().signal,
});
const { user, system } = process.cpuUsage();
const seconds = (performance.now() - started) / 1000;
const figures = {
  code,
  seconds,
  cpuSeconds: (user + system) / 1e6,
  bytes: process.resourceUsage().maxRSS * 1024,
};
console.log(JSON.stringify(figures));
