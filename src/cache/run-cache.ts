import type { Kept } from '../basics/kept.ts';
import { openCache } from './open-cache.ts';

/**
 * The cache of a run, where it was not left out.
 *
 * @returns `troubles` fills while it is used: sentences to be told when the work is done.
 */
export function cacheOf({ cache = true }: { readonly cache?: boolean | undefined }): {
  readonly kept: Kept | undefined;
  readonly troubles: readonly string[];
} {
  const troubles: string[] = [];
  if (!cache) return { kept: undefined, troubles };
  return { kept: openCache({ onTrouble: (message) => void troubles.push(message) }), troubles };
}
