import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { create, type MessageInitShape, toBinary } from '@bufbuild/protobuf';
import { AttributeProto_AttributeType, type GraphProtoSchema, ModelProtoSchema } from 'onnx-buf';

/**
 * A model of Whisper's shape whose weights were written by hand: it "hears" three tones as three words. The encoder measures
 * the tones' bands; the decoder says the words of those that sound, in their order, and its one layer has two heads, of which
 * the second looks where the word's tone is and the first everywhere alike. So times, text, caches, tokens and the library's
 * own code are the real thing, and no weights need be at hand.
 */
export const TONES: readonly { word: string; hz: number }[] = [
  { word: ' Ease', hz: 500 },
  { word: ' it', hz: 1200 },
  { word: ' in.', hz: 2800 },
];

export interface ToneWhisperOptions {
  /** Without it the graph has no cross-attention, as an ordinary export. */
  readonly attention?: boolean;
  /** After the last word it begins again with the second, for ever. */
  readonly looping?: boolean;
  readonly multilingual?: boolean;
}

const BANDS = TONES.length;
const MELS = 80;
/** The bands, and how far from the encoder's end a frame is: what the closing token looks for. */
const HIDDEN = BANDS + 1;
const FRAMES = 1500;
const FLOAT = 1;
const INT64 = 7;
const BOOL = 9;

const END = BANDS;
const START = END + 1;
const LANGUAGE = START + 1;
const TASK = LANGUAGE + 1;
const NO_TIMESTAMPS = TASK + 1;
const FIRST_TIME = NO_TIMESTAMPS + 1;
const TIMES = 1501;
const VOCABULARY = FIRST_TIME + TIMES;

type Graph = MessageInitShape<typeof GraphProtoSchema>;
type Node = NonNullable<Graph['node']>[number];
type Constant = NonNullable<Graph['initializer']>[number];
type Dims = readonly (number | string)[];

/** Writes the folder of such a model, as an export would lie on a disk. */
export async function writeToneWhisper(folder: string, options: ToneWhisperOptions = {}): Promise<void> {
  await mkdir(join(folder, 'onnx'), { recursive: true });
  await writeFile(join(folder, 'onnx', 'encoder_model_quantized.onnx'), encoder());
  await writeFile(join(folder, 'onnx', 'decoder_model_merged_quantized.onnx'), decoder(options));
  for (const [name, value] of Object.entries(settings(options))) {
    await writeFile(join(folder, name), JSON.stringify(value));
  }
}

function encoder(): Uint8Array {
  return model({
    node: [
      node('Transpose', ['input_features'], 'turned', [ints('perm', [0, 2, 1])]),
      node('MatMul', ['turned', 'bands'], 'measured'),
      node('Transpose', ['measured'], 'rows', [ints('perm', [0, 2, 1])]),
      node('AveragePool', ['rows'], 'halved', [ints('kernel_shape', [2]), ints('strides', [2])]),
      node('Transpose', ['halved'], 'heard', [ints('perm', [0, 2, 1])]),
      node('Add', ['heard', 'places'], 'last_hidden_state'),
    ],
    initializer: [
      floats('bands', [MELS, HIDDEN], bandWeights()),
      floats('places', [FRAMES, HIDDEN], places()),
    ],
    input: [value('input_features', FLOAT, ['batch', MELS, 3000])],
    output: [value('last_hidden_state', FLOAT, ['batch', FRAMES, HIDDEN])],
  });
}

function places(): number[] {
  const table = new Array<number>(FRAMES * HIDDEN).fill(0);
  for (let frame = 0; frame < FRAMES; frame++) table[frame * HIDDEN + BANDS] = 3 * (frame / FRAMES - 1);
  return table;
}

/** Each tone's band: the mean of the three mel bands around it (Slaney's scale, as Whisper's filters). */
function bandWeights(): number[] {
  const weights = new Array<number>(MELS * HIDDEN).fill(0);
  const melOf = (hz: number) =>
    hz < 1000 ? (3 * hz) / 200 : 15 + (27 * Math.log(hz / 1000)) / Math.log(6.4);
  TONES.forEach(({ hz }, band) => {
    const centre = Math.round((melOf(hz) / melOf(8000)) * (MELS + 1)) - 1;
    for (const mel of [centre - 1, centre, centre + 1]) weights[mel * HIDDEN + band] = 1 / 3;
  });
  return weights;
}

function decoder({ attention = true, looping = false }: ToneWhisperOptions): Uint8Array {
  const cacheDims: Dims = ['batch', 1, 'past', HIDDEN];
  const caches = ['decoder.key', 'decoder.value', 'encoder.key', 'encoder.value'];
  return model({
    node: [
      // Which tones sound at all, against the loudest: those that do not cost their word 20 points.
      node('ReduceMax', ['encoder_hidden_states'], 'presence', [ints('axes', [1]), int('keepdims', 1)]),
      node('ReduceMax', ['presence'], 'loudest', [ints('axes', [2]), int('keepdims', 1)]),
      node('Sub', ['presence', 'loudest'], 'behind'),
      node('Add', ['behind', 'half'], 'spared'),
      node('Min', ['spared', 'nought'], 'missing'),
      node('MatMul', ['missing', 'penalties'], 'cost'),
      node('Clip', ['input_ids', 'id_least', 'id_most'], 'row_ids'),
      node('Gather', ['followers', 'row_ids'], 'wishes'),
      node('Add', ['wishes', 'cost'], 'logits'),
      // The cross-attention of the token about to be said.
      node('ArgMax', ['logits'], 'next_ids', [int('axis', 2), int('keepdims', 0)]),
      node('Clip', ['next_ids', 'id_least', 'id_end'], 'next_rows'),
      node('Gather', ['queries', 'next_rows'], 'query'),
      node('Transpose', ['encoder_hidden_states'], 'keys', [ints('perm', [0, 2, 1])]),
      node('MatMul', ['query', 'keys'], 'scores'),
      node('Mul', ['scores', 'nought'], 'even_scores'),
      node('Softmax', ['scores'], 'sharp', [int('axis', -1)]),
      node('Softmax', ['even_scores'], 'even', [int('axis', -1)]),
      node('Unsqueeze', ['sharp', 'axis_one'], 'sharp_head'),
      node('Unsqueeze', ['even', 'axis_one'], 'even_head'),
      ...(attention
        ? [node('Concat', ['even_head', 'sharp_head'], 'cross_attentions.0', [int('axis', 1)])]
        : []),
      // The caches grow as they do in the real thing.
      node('Unsqueeze', ['query', 'axis_one'], 'new_rows'),
      node('Concat', ['past_key_values.0.decoder.key', 'new_rows'], 'present.0.decoder.key', [
        int('axis', 2),
      ]),
      node('Concat', ['past_key_values.0.decoder.value', 'new_rows'], 'present.0.decoder.value', [
        int('axis', 2),
      ]),
      node('Unsqueeze', ['encoder_hidden_states', 'axis_one'], 'present.0.encoder.key'),
      node('Unsqueeze', ['encoder_hidden_states', 'axis_one'], 'present.0.encoder.value'),
    ],
    initializer: [
      floats('followers', [FIRST_TIME + 1, VOCABULARY], followers(looping)),
      floats('penalties', [HIDDEN, VOCABULARY], penalties()),
      floats('queries', [END + 1, HIDDEN], queries()),
      floats('half', [1], [0.5]),
      floats('nought', [1], [0]),
      longs('id_least', [], [0]),
      longs('id_most', [], [FIRST_TIME]),
      longs('id_end', [], [END]),
      longs('axis_one', [1], [1]),
    ],
    input: [
      value('input_ids', INT64, ['batch', 'tokens']),
      value('encoder_hidden_states', FLOAT, ['batch', FRAMES, HIDDEN]),
      ...caches.map((name) => value(`past_key_values.0.${name}`, FLOAT, cacheDims)),
      value('use_cache_branch', BOOL, [1]),
    ],
    output: [
      value('logits', FLOAT, ['batch', 'tokens', VOCABULARY]),
      ...caches.map((name) => value(`present.0.${name}`, FLOAT, cacheDims)),
      ...(attention ? [value('cross_attentions.0', FLOAT, ['batch', 2, 'tokens', FRAMES])] : []),
    ],
  });
}

/** For each token how much each token wants to follow it: the words in their order, then the end. */
function followers(looping: boolean): number[] {
  const table = new Array<number>((FIRST_TIME + 1) * VOCABULARY).fill(-30);
  const wish = (after: number, token: number, points: number) => {
    table[after * VOCABULARY + token] = points;
  };
  for (let after = 0; after <= FIRST_TIME; after++) {
    const said = after < BANDS ? after : -1;
    for (let word = said + 1; word < BANDS; word++) wish(after, word, 8 - 2 * (word - said));
    wish(after, END, 0);
    wish(after, FIRST_TIME, after >= END ? -5 : -30);
  }
  // The last word closes its segment, at 2 s, where timestamps are asked for; without them this is forbidden.
  wish(BANDS - 1, FIRST_TIME + 100, -1);
  if (looping) wish(BANDS - 1, 1, 9);
  return table;
}

function penalties(): number[] {
  const table = new Array<number>(HIDDEN * VOCABULARY).fill(0);
  for (let band = 0; band < BANDS; band++) table[band * VOCABULARY + band] = 40;
  return table;
}

/** A word looks for its own band, the closing token for the end. */
function queries(): number[] {
  const table = new Array<number>((END + 1) * HIDDEN).fill(0);
  for (let band = 0; band < HIDDEN; band++) table[band * HIDDEN + band] = 8;
  return table;
}

function settings({ multilingual = false }: ToneWhisperOptions): Record<string, unknown> {
  const marks = [
    '<|endoftext|>',
    '<|startoftranscript|>',
    '<|en|>',
    '<|transcribe|>',
    '<|notimestamps|>',
    ...Array.from({ length: TIMES }, (_, i) => `<|${(i * 0.02).toFixed(2)}|>`),
  ];
  const pieces = TONES.map(({ word }) => word.replace(' ', 'Ġ'));
  return {
    'config.json': {
      model_type: 'whisper',
      architectures: ['WhisperForConditionalGeneration'],
      is_encoder_decoder: true,
      d_model: HIDDEN,
      encoder_layers: 1,
      decoder_layers: 1,
      num_hidden_layers: 1,
      encoder_attention_heads: 1,
      decoder_attention_heads: 1,
      max_source_positions: FRAMES,
      num_mel_bins: MELS,
      vocab_size: VOCABULARY,
      decoder_start_token_id: START,
      eos_token_id: END,
    },
    'generation_config.json': {
      decoder_start_token_id: START,
      eos_token_id: END,
      pad_token_id: END,
      no_timestamps_token_id: NO_TIMESTAMPS,
      is_multilingual: multilingual,
      ...(multilingual ? { lang_to_id: { '<|en|>': LANGUAGE }, task_to_id: { transcribe: TASK } } : {}),
      alignment_heads: [[0, 1]],
      max_initial_timestamp_index: 50,
      max_length: 448,
    },
    'preprocessor_config.json': {
      feature_extractor_type: 'WhisperFeatureExtractor',
      processor_class: 'WhisperProcessor',
      feature_size: MELS,
      sampling_rate: 16000,
      chunk_length: 30,
      hop_length: 160,
      n_fft: 400,
      n_samples: 480000,
      nb_max_frames: 3000,
    },
    'tokenizer_config.json': { tokenizer_class: 'WhisperTokenizer', eos_token: '<|endoftext|>' },
    'tokenizer.json': {
      version: '1.0',
      truncation: null,
      padding: null,
      added_tokens: marks.map((content, i) => ({
        id: END + i,
        content,
        single_word: false,
        lstrip: false,
        rstrip: false,
        normalized: false,
        special: true,
      })),
      normalizer: null,
      pre_tokenizer: { type: 'ByteLevel', add_prefix_space: false, trim_offsets: true, use_regex: true },
      post_processor: null,
      decoder: { type: 'ByteLevel', add_prefix_space: true, trim_offsets: true, use_regex: true },
      model: {
        type: 'BPE',
        dropout: null,
        unk_token: '<|endoftext|>',
        continuing_subword_prefix: '',
        end_of_word_suffix: '',
        fuse_unk: false,
        byte_fallback: false,
        vocab: Object.fromEntries(pieces.map((piece, id) => [piece, id])),
        merges: [],
      },
    },
  };
}

function model(graph: Graph): Uint8Array {
  return toBinary(
    ModelProtoSchema,
    create(ModelProtoSchema, {
      irVersion: 8n,
      opsetImport: [{ domain: '', version: 13n }],
      graph: { name: 'tones', ...graph },
    }),
  );
}

function node(opType: string, input: string[], output: string, attribute: Node['attribute'] = []): Node {
  return { opType, name: output, input, output: [output], attribute };
}

function ints(name: string, values: readonly number[]) {
  return { name, type: AttributeProto_AttributeType.INTS, ints: values.map(BigInt) };
}

function int(name: string, of: number) {
  return { name, type: AttributeProto_AttributeType.INT, i: BigInt(of) };
}

function floats(name: string, dims: readonly number[], values: readonly number[]): Constant {
  return { name, dims: dims.map(BigInt), dataType: FLOAT, floatData: [...values] };
}

function longs(name: string, dims: readonly number[], values: readonly number[]): Constant {
  return { name, dims: dims.map(BigInt), dataType: INT64, int64Data: values.map(BigInt) };
}

function value(name: string, elemType: number, dims: Dims) {
  const dim = dims.map((size) => ({
    value:
      typeof size === 'number'
        ? { case: 'dimValue' as const, value: BigInt(size) }
        : { case: 'dimParam' as const, value: size },
  }));
  return { name, type: { value: { case: 'tensorType' as const, value: { elemType, shape: { dim } } } } };
}
