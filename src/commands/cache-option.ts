import type { Command } from 'commander';
import type { Kept } from '../basics/kept.ts';

export interface CacheArguments {
  /** False after --no-cache. */
  readonly cache?: boolean;
}

/** Adds the option that leaves the cache out. */
export function addCacheOption(command: Command): Command {
  return command.option('--no-cache', 'hear everything anew, and keep nothing of it');
}

/**
 * The cache of a run, where it was not left out.
 *
 * @returns `troubles` fills while it is used: sentences to be told when the work is done.
 */
export async function cacheOf({
  cache = true,
}: CacheArguments): Promise<{ readonly kept: Kept | undefined; readonly troubles: readonly string[] }> {
  const troubles: string[] = [];
  if (!cache) return { kept: undefined, troubles };
  const { openCache } = await import('../cache/open-cache.ts');
  return { kept: openCache({ onTrouble: (message) => void troubles.push(message) }), troubles };
}
