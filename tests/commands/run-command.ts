import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../src/commands/run.ts';

/** What a run ended with and what it said. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs critsheet in this process, as the command line would, on no terminal. */
export async function critsheet(
  args: readonly string[],
  signal = new AbortController().signal,
): Promise<Ran> {
  let out = '';
  let err = '';
  const screen = {
    print: (text: string) => {
      out += `${text}\n`;
    },
    tell: (text: string) => {
      err += `${text}\n`;
    },
    terminal: null,
  };
  const code = await run(args, { screen, signal });
  return { code, out, err };
}

/** Calls with a new folder that is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'critsheet-test-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
