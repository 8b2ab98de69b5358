import type { Tensor } from '@xenova/transformers';
import type { Head } from '../alignment/attention.ts';
import type { ListenFor } from '../glossary/listen-for.ts';
import { phraseBias } from '../glossary/phrase-bias.ts';
import { buildTrie } from '../glossary/phrase-trie.ts';
import { tokenKinds, weighPhrases } from '../glossary/weigh-phrases.ts';
import { biasProcessor } from './bias-processor.ts';
import { type Library, libraryId, loadLibrary, sessionOptions } from './library.ts';
import { probabilityRecorder } from './probability-recorder.ts';

/** A stretch of text between two of Whisper's timestamps, in seconds; `end` is null where the closing one is missing. */
export interface WhisperSegment {
  /** Places in the list of tokens, the last one not included. */
  readonly from: number;
  readonly to: number;
  readonly start: number;
  readonly end: number | null;
}

/** What one run of the recogniser gives; the lists have one entry for each token of text. */
export interface WhisperDecoded {
  readonly ids: readonly number[];
  /** As written in the vocabulary. */
  readonly pieces: readonly string[];
  readonly probabilities: readonly number[];
  /**
   * For each alignment head, for each token and the closing one, its weights over the encoder's frames; null where the model
   * was exported without its cross-attention.
   */
  readonly attention: readonly (readonly Float32Array[])[] | null;
  /** Asked for only where there is no attention. */
  readonly segments: readonly WhisperSegment[];
  /** Whether the closing token came before the limit. */
  readonly finished: boolean;
}

export interface WhisperModel {
  /** @param samples 16 kHz mono, at most 30 s */
  decode(samples: Float32Array, maxTokens: number): Promise<WhisperDecoded>;
  /** Writes tokens out as text. */
  text(ids: readonly number[]): string;
  close(): Promise<void>;
}

/** Seconds of one step of Whisper's timestamps, and of one frame of its encoder. */
export const WHISPER_FRAME_SECONDS = 0.02;

interface GenerationSettings {
  readonly eos_token_id: number | readonly number[];
  readonly no_timestamps_token_id?: number;
  readonly is_multilingual?: boolean;
  readonly alignment_heads?: readonly (readonly [number, number])[];
}

interface Generated {
  readonly sequences: Tensor;
  /** For each step, for each layer: [1, heads, tokens, frames]; the first step has all opening tokens. */
  readonly cross_attentions?: readonly (readonly Tensor[])[];
}

/** Loads an exported Whisper folder; greedy decoding, 8-bit weights, on the processor. `wanted` is what it is pulled toward. */
export async function loadWhisper(folder: string, wanted?: ListenFor): Promise<WhisperModel> {
  const library = await loadLibrary();
  const id = libraryId(folder);
  const model = await library.AutoModelForSpeechSeq2Seq.from_pretrained(id, {
    dtype: 'q8',
    device: 'cpu',
    session_options: sessionOptions(),
  });
  const tokenizer = await library.AutoTokenizer.from_pretrained(id);
  const processor = await library.AutoProcessor.from_pretrained(id);
  const settings = model.generation_config as unknown as GenerationSettings;
  const vocabulary = [...tokenizer.get_vocab()].reduce<string[]>((pieces, [piece, place]) => {
    pieces[place] = piece;
    return pieces;
  }, []);
  // The English models refuse a language; the others would guess one for each region.
  const language = settings.is_multilingual ? { language: 'en', task: 'transcribe' } : {};
  const bias = wanted && wanted.phrases.length > 0 ? whisperBias(tokenizer, vocabulary, wanted) : null;
  let hasAttention = true;

  async function run(features: unknown, maxTokens: number, timestamps: boolean) {
    // The recorder looks first: a word's confidence is the model's own.
    const { list, probabilities } = probabilityRecorder(library as Library);
    if (bias) list.push(biasProcessor(library as Library, bias));
    const generated = (await model.generate({
      inputs: features,
      ...language,
      return_timestamps: timestamps,
      logits_processor: list,
      max_new_tokens: maxTokens,
      return_dict_in_generate: true,
      output_attentions: true,
    } as unknown as Parameters<typeof model.generate>[0])) as unknown as Generated;
    const all = Array.from(generated.sequences.data as BigInt64Array, Number);
    return { generated, ids: all.slice(all.length - probabilities.length), probabilities };
  }

  return {
    async decode(samples, maxTokens) {
      const { input_features: features } = (await processor(samples)) as { input_features: Tensor };
      let answer = await run(features, maxTokens, !hasAttention);
      if (hasAttention && !answer.generated.cross_attentions) {
        hasAttention = false;
        answer = await run(features, maxTokens, true);
      }
      const { generated, ids, probabilities } = answer;
      const closing = [settings.eos_token_id].flat()[0] ?? 0;
      // Every token behind the closing one in the vocabulary is a mark and no text.
      const places = ids.flatMap((token, place) => (token < closing ? [place] : []));
      const finished = ids.at(-1) === closing;
      const steps = finished ? [...places, ids.length - 1] : places;
      const frames = Math.ceil(samples.length / 16000 / WHISPER_FRAME_SECONDS);
      const layers = generated.cross_attentions;
      return {
        ids: places.map((place) => ids[place] ?? 0),
        pieces: places.map((place) => vocabulary[ids[place] ?? 0] ?? ''),
        probabilities: places.map((place) => probabilities[place] ?? 0),
        attention:
          layers && steps.length > 0
            ? alignmentHeads(settings, layers).map((head) =>
                steps.map((step) => headRow(layers[step], head, frames)),
              )
            : null,
        segments: hasAttention ? [] : segmentsOf(ids, closing, settings.no_timestamps_token_id ?? Number.NaN),
        finished,
      };
    },
    text: (ids) => tokenizer.decode([...ids], { skip_special_tokens: true }),
    async close() {
      await model.dispose();
    },
  };
}

/** What of the library's tokenizers is used. */
interface Tokenizer {
  encode(text: string, options: { add_special_tokens: boolean }): number[];
}

function whisperBias(tokenizer: Tokenizer, pieces: readonly string[], wanted: ListenFor) {
  // Words inside a text of this vocabulary carry the space before them.
  const encode = (text: string) => tokenizer.encode(` ${text}`, { add_special_tokens: false });
  return phraseBias(buildTrie(weighPhrases(wanted, { pieces, encode })), tokenKinds(pieces));
}

/** Those the export names; else, as openai/whisper does, all heads of the upper half of the layers. */
function alignmentHeads(
  settings: GenerationSettings,
  steps: NonNullable<Generated['cross_attentions']>,
): Head[] {
  if (settings.alignment_heads) return settings.alignment_heads.map(([layer, head]) => ({ layer, head }));
  const layers = steps[0] ?? [];
  return layers.flatMap((tensor, layer) =>
    layer < layers.length / 2
      ? []
      : Array.from({ length: tensor.dims[1] ?? 0 }, (_, head) => ({ layer, head })),
  );
}

/** The weights with which a step's last token was chosen, over the frames that hold sound. */
function headRow(layers: readonly Tensor[] | undefined, { layer, head }: Head, frames: number): Float32Array {
  const tensor = layers?.[layer];
  if (!tensor) throw new Error(`the model names an alignment head in layer ${layer}, which it does not have`);
  const [tokens = 1, all = 0] = tensor.dims.slice(2);
  const from = (head * tokens + tokens - 1) * all;
  return (tensor.data as Float32Array).slice(from, from + Math.min(frames, all));
}

/** Parts tokens at their timestamps. Text before the first one begins at 0. */
function segmentsOf(ids: readonly number[], closing: number, noTimestamps: number): WhisperSegment[] {
  const segments: WhisperSegment[] = [];
  let start = 0;
  let from = 0;
  let text = 0;
  const close = (end: number | null) => {
    if (text > from) segments.push({ from, to: text, start, end });
    from = text;
  };
  for (const token of ids) {
    if (token < closing) text++;
    else if (token > noTimestamps) {
      const seconds = (token - noTimestamps - 1) * WHISPER_FRAME_SECONDS;
      close(seconds);
      start = seconds;
    }
  }
  close(null);
  return segments;
}
