import type { Tensor } from '@xenova/transformers';
import type { Head } from '../alignment/attention.ts';
import { libraryId, loadLibrary, sessionOptions } from './library.ts';
import { probabilityRecorder } from './probability-recorder.ts';

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
  decode(samples: Float32Array, maxTokens: number, heads: readonly Head[]): Promise<Decoded>;
  /** Writes tokens out as text. */
  text(ids: readonly number[]): string;
  close(): Promise<void>;
}

const END = 2;

interface Generated {
  readonly sequences: Tensor;
  /** For each step, for each layer: [1, heads, 1, frames]. */
  readonly cross_attentions: readonly (readonly Tensor[])[];
}

/** Loads a Moonshine folder as made by `ensureModelFolder`; greedy decoding, 8-bit weights, on the processor. */
export async function loadMoonshine(folder: string): Promise<MoonshineModel> {
  const library = await loadLibrary();
  const id = libraryId(folder);
  const model = await library.AutoModelForSpeechSeq2Seq.from_pretrained(id, {
    dtype: 'q8',
    device: 'cpu',
    session_options: sessionOptions(),
  });
  const tokenizer = await library.AutoTokenizer.from_pretrained(id);
  const vocabulary = [...tokenizer.get_vocab()].reduce<string[]>((pieces, [piece, place]) => {
    pieces[place] = piece;
    return pieces;
  }, []);
  return {
    async decode(samples, maxTokens, heads) {
      const recorder = probabilityRecorder(library);
      const generated = (await model.generate({
        inputs: new library.Tensor('float32', samples, [1, samples.length]),
        logits_processor: recorder.list,
        max_new_tokens: maxTokens,
        return_dict_in_generate: true,
        output_attentions: true,
      } as unknown as Parameters<typeof model.generate>[0])) as unknown as Generated;
      const all = Array.from(generated.sequences.data as BigInt64Array, Number).slice(1);
      const finished = all.at(-1) === END;
      const ids = finished ? all.slice(0, -1) : all;
      return {
        ids,
        pieces: ids.map((token) => vocabulary[token] ?? ''),
        probabilities: recorder.probabilities,
        attention: heads.map(({ layer, head }) =>
          generated.cross_attentions.map((layers) => headRow(layers[layer], head)),
        ),
        finished,
      };
    },
    text: (ids) => tokenizer.decode([...ids], { skip_special_tokens: true }),
    async close() {
      await model.dispose();
    },
  };
}

function headRow(layer: Tensor | undefined, head: number): Float32Array {
  if (!layer) throw new Error('the decoder gives no cross-attention: its folder was not made by critsheet');
  const frames = layer.dims[3] ?? 0;
  return (layer.data as Float32Array).slice(head * frames, (head + 1) * frames);
}
