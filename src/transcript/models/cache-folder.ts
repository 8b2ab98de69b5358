import { homedir } from 'node:os';
import { join } from 'node:path';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The folder that made or fetched models are kept in.
 *
 * `CRITSHEET_CACHE` wins where it is set. Otherwise it is the platform's own folder for files that can be made again:
 * `XDG_CACHE_HOME` or `~/.cache` on Linux, `~/Library/Caches` on macOS, `%LOCALAPPDATA%` on Windows, and in it
 * `critsheet`. Nothing is made here; see `ensureModelFolder`.
 */
export function cacheFolder(
  environment: Environment = process.env,
  platform: NodeJS.Platform = process.platform,
  home: string = homedir(),
): string {
  const own = environment.CRITSHEET_CACHE;
  if (own) return own;
  return join(platformCache(environment, platform, home), 'critsheet');
}

function platformCache(environment: Environment, platform: NodeJS.Platform, home: string): string {
  if (platform === 'win32') return environment.LOCALAPPDATA || join(home, 'AppData', 'Local');
  if (platform === 'darwin') return join(home, 'Library', 'Caches');
  return environment.XDG_CACHE_HOME || join(home, '.cache');
}
