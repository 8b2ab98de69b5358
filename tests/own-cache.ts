import { mkdirSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cacheFolder } from '../src/transcript/models/cache-folder.ts';

/** A cache folder that begins without any results, but has this machine's models, which take seconds to make. */
export function newCacheFolder(): string {
  const models = join(cacheFolder(), 'models');
  mkdirSync(models, { recursive: true });
  const folder = mkdtempSync(join(tmpdir(), 'critsheet-cache-'));
  symlinkSync(models, join(folder, 'models'), 'junction');
  return folder;
}

/** For a whole run of the tests: what an older version of the code heard must not be found by a newer one's tests. */
export function setup(): () => void {
  const folder = newCacheFolder();
  const before = process.env.CRITSHEET_CACHE;
  process.env.CRITSHEET_CACHE = folder;
  return () => {
    if (before === undefined) delete process.env.CRITSHEET_CACHE;
    else process.env.CRITSHEET_CACHE = before;
    rmSync(folder, { recursive: true, force: true });
  };
}
