import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DEFAULT_MODEL, MODELS } from '../../src/transcript/models/catalogue.ts';
import { critsheet, inFolder } from './run-command.ts';

describe('models', () => {
  const before = process.env.CRITSHEET_CACHE;
  let finish: () => void = () => undefined;
  beforeEach(
    () =>
      new Promise<void>((ready) => {
        void inFolder((folder) => {
          process.env.CRITSHEET_CACHE = folder;
          ready();
          return new Promise<void>((done) => {
            finish = done;
          });
        });
      }),
  );
  afterEach(() => {
    finish();
    if (before === undefined) delete process.env.CRITSHEET_CACHE;
    else process.env.CRITSHEET_CACHE = before;
  });

  it('lists every model with its size and whether it is on this machine', async () => {
    const { code, out } = await critsheet(['models']);
    expect(code).toBe(0);
    for (const { id, size } of MODELS) {
      expect(out).toMatch(new RegExp(`^${id.replaceAll('.', '[.]')} .*${Math.round(size / 1e6)} MB`, 'm'));
    }
    expect(out).toMatch(new RegExp(`^${DEFAULT_MODEL} \\(default\\) +yes, unpacked on first use`, 'm'));
    expect(out).toMatch(/^whisper-small\.en +no /m);
  });

  it('prepares one that comes with critsheet, and then shows its checksum', async () => {
    const prepared = await critsheet(['models', 'prepare', 'moonshine-tiny']);
    expect(prepared.code).toBe(0);
    expect(prepared.out).toMatch(/^ready: moonshine-tiny, in /);
    const { out } = await critsheet(['models', '--json']);
    const tiny = (JSON.parse(out) as { id: string; state: string; sha256: string | null }[]).find(
      ({ id }) => id === 'moonshine-tiny',
    );
    expect(tiny).toMatchObject({ state: 'ready', sha256: expect.stringMatching(/^[0-9a-f]{64}$/) });
  });

  it('exits 1 for a model nobody knows', async () => {
    const { code, err } = await critsheet(['models', 'prepare', 'humming']);
    expect(code).toBe(1);
    expect(err).toMatch(/^critsheet: There is no model called "humming": choose one of .*\n$/);
  });
});
