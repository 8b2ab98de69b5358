/** A phrase that recognition is pulled toward, as tokens, and by how much: natural logarithms for the whole of it. */
export interface WeighedPhrase {
  readonly tokens: readonly number[];
  readonly weight: number;
}

/** A place in the trie: what may follow the tokens so far. */
export interface TrieNode {
  readonly children: Map<number, TrieNode>;
  /** Where a phrase ends here, what it is worth; otherwise 0. */
  worth: number;
  /** The most that any phrase through here is worth, by the share of its tokens that are written. */
  promise: number;
}

/** Phrases by their tokens, each beginning in one root. */
export function buildTrie(phrases: readonly WeighedPhrase[]): TrieNode {
  const root: TrieNode = { children: new Map(), worth: 0, promise: 0 };
  for (const { tokens, weight } of phrases) {
    let node = root;
    tokens.forEach((token, index) => {
      let next = node.children.get(token);
      if (!next) {
        next = { children: new Map(), worth: 0, promise: 0 };
        node.children.set(token, next);
      }
      next.promise = Math.max(next.promise, (weight * (index + 1)) / tokens.length);
      node = next;
    });
    node.worth = Math.max(node.worth, weight);
  }
  return root;
}
