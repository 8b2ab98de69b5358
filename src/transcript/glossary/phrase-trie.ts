/**
 * A word that the recogniser itself finds less likely than this is not pulled toward: of such words nine in ten were never
 * said, of those somewhat likelier more than half were (2,800 words of spoken critiques). It is what stops the pull from
 * putting words into sound that the recogniser cannot follow.
 */
export const LEAST_LIKELY = Math.log(0.02);
/** What a person asked for by hand may be a name that the recogniser has never read: it is pulled toward from here on. */
export const LEAST_LIKELY_OWN = Math.log(0.001);

/** A phrase that recognition is pulled toward, as tokens, and by how much: natural logarithms for the whole of it. */
export interface WeighedPhrase {
  readonly tokens: readonly number[];
  readonly weight: number;
  /** How likely a word of it must be for the pull to count, as a natural logarithm. */
  readonly least: number;
}

/** A place in the trie: what may follow the tokens so far. */
export interface TrieNode {
  readonly children: Map<number, TrieNode>;
  /** Where a phrase ends here, what it is worth; otherwise 0. */
  worth: number;
  /** The most that any phrase through here is worth, by the share of its tokens that are written. */
  promise: number;
  /** The least likelihood that any phrase through here asks for. */
  least: number;
}

/** Phrases by their tokens, each beginning in one root. */
export function buildTrie(phrases: readonly WeighedPhrase[]): TrieNode {
  const root: TrieNode = { children: new Map(), worth: 0, promise: 0, least: 0 };
  for (const { tokens, weight, least } of phrases) {
    let node = root;
    tokens.forEach((token, index) => {
      let next = node.children.get(token);
      if (!next) {
        next = { children: new Map(), worth: 0, promise: 0, least };
        node.children.set(token, next);
      }
      next.promise = Math.max(next.promise, (weight * (index + 1)) / tokens.length);
      next.least = Math.min(next.least, least);
      node = next;
    });
    node.worth = Math.max(node.worth, weight);
  }
  return root;
}
