import type { Kept } from '../../src/basics/kept.ts';
import { entryId } from '../../src/cache/entry.ts';

/** What was asked of a cache, as "kind id" in the order in which it happened. */
export interface Asked {
  readonly found: string[];
  readonly missed: string[];
  readonly put: string[];
}

/** The same cache, and a note of what is asked of it. */
export function noted(
  cache: Kept,
  onAsked?: (what: keyof Asked, name: string) => void,
): { readonly kept: Kept; readonly asked: Asked } {
  const asked: Asked = { found: [], missed: [], put: [] };
  const note = (what: keyof Asked, name: string) => {
    asked[what].push(name);
    onAsked?.(what, name);
  };
  const kept: Kept = {
    async get(kind, of) {
      const result = await cache.get(kind, of);
      note(result === undefined ? 'missed' : 'found', `${kind.name} ${entryId(kind, of)}`);
      return result;
    },
    async put(kind, of, result) {
      await cache.put(kind, of, result);
      note('put', `${kind.name} ${entryId(kind, of)}`);
    },
    drop: (kind, of) => cache.drop(kind, of),
  };
  return { kept, asked };
}

/** Those of one kind. */
export function ofKind(names: readonly string[], kind: string): string[] {
  return names.filter((name) => name.startsWith(`${kind} `));
}
