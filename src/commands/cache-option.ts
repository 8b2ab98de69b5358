import type { Command } from 'commander';

export interface CacheArguments {
  /** False after --no-cache. */
  readonly cache?: boolean;
}

/** Adds the option that leaves the cache out. */
export function addCacheOption(command: Command): Command {
  return command.option('--no-cache', 'hear everything anew, and keep nothing of it');
}
