import { spawn } from 'node:child_process';
import { cp, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

const MAIN = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const LOADER = import.meta.resolve('tsx');

interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the program itself in a process of its own. */
function start(args: readonly string[]): {
  ended: Promise<Ended>;
  kill: (signal: NodeJS.Signals) => void;
  said: Promise<void>;
} {
  const child = spawn(process.execPath, ['--import', LOADER, MAIN, ...args]);
  let out = '';
  let err = '';
  let heard: () => void = () => undefined;
  const said = new Promise<void>((resolve) => {
    heard = resolve;
  });
  child.stdout.on('data', (piece) => {
    out += piece;
  });
  child.stderr.on('data', (piece) => {
    err += piece;
    heard();
  });
  const ended = new Promise<Ended>((resolve) => {
    child.on('close', (code) => resolve({ code, out, err }));
  });
  return { ended, said, kill: (signal) => void child.kill(signal) };
}

describe('the program', () => {
  it('exits 0 with the sheet alone on standard output', () =>
    inFolder(async (folder) => {
      const { code, out, err } = await start(['read', await putTranscript(folder), '--json']).ended;
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(sheetSchema.parse(JSON.parse(out)).recording.file).toBe('take3.wav');
    }));

  it('exits 1 with one line for a mistake, and with the stack for --verbose', async () => {
    const [short, long] = await Promise.all([
      start(['read', 'no.wav']).ended,
      start(['read', 'no.wav', '--verbose']).ended,
    ]);
    expect(short).toEqual({
      code: 1,
      out: '',
      err: expect.stringMatching(/^critsheet: There is no file no\.wav.*\n$/),
    });
    expect(long.code).toBe(1);
    expect(long.err).toMatch(/^PersonError: .*\n {4}at /);
    expect(long.err).toContain('critsheet: There is no file no.wav');
  });

  it('exits 2 for a wrong command line', async () => {
    expect((await start(['reed']).ended).code).toBe(2);
  });

  it.skipIf(process.platform === 'win32').each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ] as const)('%s stops it with %d, and no file is left', (signal, code) =>
    inFolder(async (folder) => {
      const path = join(folder, 'take3.wav');
      await cp(new URL('../fixtures/speech/synth-lift.wav', import.meta.url), path);
      const running = start(['read', path, '--verbose']);
      await running.said;
      running.kill(signal);
      const ended = await running.ended;
      expect({ code: ended.code, out: ended.out }).toEqual({ code, out: '' });
      expect(await readdir(folder)).toEqual(['take3.wav']);
    }),
  );
});
