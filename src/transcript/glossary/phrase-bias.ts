import type { Bias } from '../engines/beam-search.ts';
import type { TrieNode } from './phrase-trie.ts';
import type { TokenKinds } from './weigh-phrases.ts';

/** A phrase that is being written: how far it has come, and what a shorter phrase inside it has earned already. */
interface Path {
  readonly node: TrieNode;
  readonly earned: number;
}

/** What a text has earned for good, and the phrases it may be in the middle of. */
export interface BiasState {
  readonly earned: number;
  readonly paths: readonly Path[];
}

/**
 * Pulls a search toward phrases: shallow fusion over a prefix trie. While a phrase is being written it counts by the share
 * of it that stands; when it breaks off, that is taken back; when a word ends where the phrase ends, it is kept (the way of
 * arXiv 2508.17796, in natural logarithms).
 */
export function phraseBias(root: TrieNode, { beginsWord, endsWord }: TokenKinds): Bias<BiasState> {
  return {
    start: { earned: 0, paths: [] },
    *wanted({ paths }) {
      for (const { node } of paths) yield* node.children.keys();
      yield* root.children.keys();
    },
    after({ earned, paths }, token) {
      const wordEnds = endsWord(token);
      const alive: Path[] = [];
      let kept = 0;
      for (const path of paths) {
        const here = wordEnds ? Math.max(path.earned, path.node.worth) : path.earned;
        const next = path.node.children.get(token);
        if (next) alive.push({ node: next, earned: here });
        else if (alive.length === 0) kept = Math.max(kept, here);
      }
      const first = beginsWord(token) ? root.children.get(token) : undefined;
      if (first) alive.push({ node: first, earned: 0 });
      return alive.length === 0 && kept === 0 && paths.length === 0
        ? { earned, paths }
        : { earned: earned + kept, paths: alive };
    },
    score({ earned, paths }) {
      let most = 0;
      for (const path of paths) most = Math.max(most, path.earned, path.node.promise);
      return earned + most;
    },
  };
}

/** No bias at all: the search looks at probability alone. */
export const NO_BIAS: Bias<null> = {
  start: null,
  *wanted() {},
  after: () => null,
  score: () => 0,
};
