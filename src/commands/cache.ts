import type { Command } from 'commander';
import type { Entry } from '../cache/entries.ts';
import type { Surroundings } from './screen.ts';

/** What the kinds of results are called; one that is not named here is shown by its own name. */
const KINDS: Readonly<Record<string, string>> = {
  transcript: 'words of whole recordings',
  recording: 'lengths of recordings, and what was noticed in them',
  region: 'words of recordings that were not heard to their end',
  voice: 'where somebody speaks in those',
  'shot-sound': "where a shot's sound plays",
  counter: 'frame counters',
};

/** `critsheet cache`: what is kept from one run to the next, and `critsheet cache clear`. */
export function addCache(program: Command, surroundings: Surroundings): void {
  const cache = program
    .command('cache')
    .summary('show what is kept of recordings that were read, or clear it')
    .description(
      'Shows what "read" and "transcribe" keep, so that a recording is not heard twice. The speech models are listed by "critsheet models".',
    )
    .option('--json', 'print it as JSON on standard output')
    .option('--verbose', 'show the stack of an error')
    .action((options: { json?: true }) => show(options, surroundings));
  cache
    .command('clear')
    .summary('remove all of it')
    .description('Removes all that is kept of recordings. The next reading hears them anew.')
    .option('--verbose', 'show the stack of an error')
    .action(() => clear(surroundings));
}

async function show(options: { json?: true }, { screen }: Surroundings): Promise<void> {
  const { listEntries, resultsFolder } = await import('../cache/entries.ts');
  const { MOST_BYTES } = await import('../cache/open-cache.ts');
  const { inColumns } = await import('./columns.ts');
  const folder = resultsFolder();
  const entries = await listEntries(folder);
  const kinds = [...new Set(entries.map(({ kind }) => kind))].sort();
  const sums = kinds.map((kind) => ({ kind, ...sumOf(entries.filter((entry) => entry.kind === kind)) }));
  const all = sumOf(entries);
  if (options.json) {
    screen.print(JSON.stringify({ folder, ...all, mostBytes: MOST_BYTES, kinds: sums }, null, 2));
    return;
  }
  if (entries.length > 0) {
    const rows = sums.map((sum) => [sum.kind, String(sum.count), sized(sum.bytes), KINDS[sum.kind] ?? '']);
    screen.print(`${inColumns([['kind', 'kept', 'size', 'what'], ...rows])}\n`);
  }
  screen.print(
    `${inShort(entries)} in ${folder}, of ${sized(MOST_BYTES)} at most; "critsheet cache clear" removes it.`,
  );
}

async function clear({ screen }: Surroundings): Promise<void> {
  const { clearEntries, resultsFolder } = await import('../cache/entries.ts');
  const { writingFault } = await import('../basics/system-message.ts');
  const folder = resultsFolder();
  const removed = await clearEntries(folder).catch((error: unknown) => {
    throw writingFault(error, folder);
  });
  screen.print(`removed: ${inShort(removed)} in ${folder}`);
}

function inShort(entries: readonly Entry[]): string {
  const { count, bytes } = sumOf(entries);
  return `${count} ${count === 1 ? 'result' : 'results'}, ${sized(bytes)}`;
}

function sumOf(entries: readonly Entry[]): { count: number; bytes: number } {
  return { count: entries.length, bytes: entries.reduce((sum, { bytes }) => sum + bytes, 0) };
}

/** Nothing there is smaller than a block of the disk, four thousand bytes. */
function sized(bytes: number): string {
  return bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${Math.round(bytes / 1e6)} MB`;
}
