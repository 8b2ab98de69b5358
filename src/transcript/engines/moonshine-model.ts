import type { Head } from '../alignment/attention.ts';
import { LISTEN_FOR_NOTHING, type ListenFor } from '../glossary/listen-for.ts';
import { phraseBias } from '../glossary/phrase-bias.ts';
import { buildTrie, LEAST_LIKELY_OWN } from '../glossary/phrase-trie.ts';
import { tokenKinds, weighPhrases } from '../glossary/weigh-phrases.ts';
import { beamSearch, type SearchOptions, type Stepper } from './beam-search.ts';
import { libraryId, loadLibrary } from './library.ts';
import { type DecoderMemory, type MoonshineGraphs, openGraphs, withRows } from './moonshine-graphs.ts';

/** What one run of the recogniser gives; all lists have one entry for each token, the closing one included. */
export interface Decoded {
  /** As written in the vocabulary; the closing token is left out. */
  readonly pieces: readonly string[];
  readonly ids: readonly number[];
  readonly probabilities: readonly number[];
  /** For each head asked for, for each token, its weights over the encoder's frames. */
  readonly attention: readonly (readonly Float32Array[])[];
  /** Whether the closing token came before the limit. */
  readonly finished: boolean;
}

export interface MoonshineModel {
  decode(samples: Float32Array, limits: Pick<SearchOptions, 'leastTokens' | 'maxTokens'>): Promise<Decoded>;
  /** Writes tokens out as text. */
  text(ids: readonly number[]): string;
  close(): Promise<void>;
}

const START = 1;
const END = 2;
/** How far a search goes, but for what depends on the stretch of sound. */
export type SearchWidth = Omit<SearchOptions, 'leastTokens' | 'maxTokens'>;

/** Chosen on spoken critiques: wider costs time and mends little (tests/bench/glossary.ts). */
const SEARCH: SearchWidth = {
  width: 4,
  reach: 0,
  leastWanted: LEAST_LIKELY_OWN,
  behind: 2.5,
  startToken: START,
  endToken: END,
};

/**
 * Loads a Moonshine folder as made by `ensureModelFolder`; 8-bit weights, on the processor.
 *
 * @param heads Those whose attention is wanted.
 * @param wanted What the search is pulled toward.
 * @param search How far it goes; benches try other widths.
 */
export async function loadMoonshine(
  folder: string,
  heads: readonly Head[],
  wanted: ListenFor = LISTEN_FOR_NOTHING,
  search: SearchWidth = SEARCH,
): Promise<MoonshineModel> {
  const library = await loadLibrary();
  const tokenizer = await library.AutoTokenizer.from_pretrained(libraryId(folder));
  const pieces = [...tokenizer.get_vocab()].reduce<string[]>((all, [piece, place]) => {
    all[place] = piece;
    return all;
  }, []);
  const encode = (text: string) => tokenizer.encode(text, { add_special_tokens: false });
  const trie = buildTrie(weighPhrases(wanted, { pieces, encode }));
  const bias = phraseBias(trie, tokenKinds(pieces));
  const graphs = await openGraphs(folder, heads);
  return {
    async decode(samples, limits) {
      const stepper = await openStepper(graphs, samples);
      const { tokens, finished } = await beamSearch(stepper, bias, { ...search, ...limits });
      const ids = tokens.map(({ token }) => token).filter((token) => token !== END);
      return {
        ids,
        pieces: ids.map((token) => pieces[token] ?? ''),
        probabilities: tokens.map(({ probability }) => probability),
        attention: heads.map((_, head) =>
          tokens.map(({ attention }) => attention[head] ?? new Float32Array(0)),
        ),
        finished,
      };
    },
    text: (ids) => (ids.length === 0 ? '' : tokenizer.decode([...ids], { skip_special_tokens: true })),
    close: () => graphs.close(),
  };
}

/** A decoder over one stretch of sound. */
async function openStepper(graphs: MoonshineGraphs, samples: Float32Array): Promise<Stepper> {
  const encoded = await graphs.encode(samples);
  let memory: DecoderMemory | null = null;
  return {
    async step(texts) {
      const tokens = texts.map(({ token }) => token);
      const rows = texts.map(({ row }) => row);
      const step =
        memory === null
          ? await graphs.begin(encoded, tokens[0] ?? START)
          : await graphs.step(withRows(memory, rows), tokens);
      memory = step.memory;
      return texts.map((_, row) => ({ logits: step.logits(row), attention: step.attention(row) }));
    },
  };
}
