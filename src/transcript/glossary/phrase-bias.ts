import type { Bias } from '../engines/beam-search.ts';
import type { TrieNode } from './phrase-trie.ts';
import type { TokenKinds } from './weigh-phrases.ts';

/** A phrase that is being written: how far it has come, and what a shorter phrase inside it is worth. */
interface Path {
  readonly node: TrieNode;
  /** The shorter phrase's end; null where none has ended yet. */
  readonly ended: TrieNode | null;
  /** How likely its last word is so far, as a natural logarithm. */
  readonly wordLogProbability: number;
}

/** What a text has earned for good, by which phrases last, and those it may be in the middle of. */
export interface BiasState {
  readonly earned: number;
  readonly latest: readonly TrieNode[];
  readonly paths: readonly Path[];
}

/** A phrase that is among so many last ones so often earns nothing more: else the recogniser would go round in it. */
const LATEST = 4;
const OFTEN = 2;

/**
 * Pulls a search toward phrases: shallow fusion over a prefix trie. While a phrase is being written it counts by the share
 * of it that stands; when it breaks off, that is taken back; when a word ends where the phrase ends, it is kept (the way of
 * arXiv 2508.17796, in natural logarithms).
 */
export function phraseBias(root: TrieNode, { beginsWord, endsWord }: TokenKinds): Bias<BiasState> {
  return {
    start: { earned: 0, latest: [], paths: [] },
    *wanted({ paths }) {
      for (const { node } of paths) yield* node.children.keys();
      yield* root.children.keys();
    },
    after({ earned, latest, paths }, token, logProbability) {
      const wordEnds = endsWord(token);
      const begins = beginsWord(token);
      const alive: Path[] = [];
      const goOn = (next: TrieNode | undefined, ended: TrieNode | null, before: number) => {
        const wordLogProbability = (begins ? 0 : before) + logProbability;
        if (!next || wordLogProbability < next.least) return false;
        alive.push({ node: next, ended, wordLogProbability });
        return true;
      };
      let kept: TrieNode | null = null;
      for (const path of paths) {
        const ended = wordEnds && path.node.worth > 0 ? path.node : path.ended;
        if (goOn(path.node.children.get(token), ended, path.wordLogProbability) || alive.length > 0) continue;
        if (ended && ended.worth > (kept?.worth ?? 0)) kept = ended;
      }
      if (begins) goOn(root.children.get(token), null, 0);
      if (kept === null) return { earned, latest, paths: alive };
      const gain = isWorn(latest, kept) ? 0 : kept.worth;
      return { earned: earned + gain, latest: [kept, ...latest].slice(0, LATEST), paths: alive };
    },
    score({ earned, latest, paths }) {
      let most = 0;
      for (const { node, ended } of paths) {
        const inside = ended && !isWorn(latest, ended) ? ended.worth : 0;
        most = Math.max(most, inside, isWorn(latest, node) ? 0 : node.promise);
      }
      return earned + most;
    },
  };
}

function isWorn(latest: readonly TrieNode[], node: TrieNode): boolean {
  return latest.filter((one) => one === node).length >= OFTEN;
}

/** No bias at all: the search looks at probability alone. */
export const NO_BIAS: Bias<null> = {
  start: null,
  *wanted() {},
  after: () => null,
  score: () => 0,
};
