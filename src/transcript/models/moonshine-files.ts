import llamaTokenizer from 'llama-tokenizer-js';

/** What tells one size of Moonshine from another. */
export interface MoonshineSize {
  readonly hidden: number;
  readonly intermediate: number;
  readonly layers: number;
}

const HEADS = 8;
const ADDED_TOKENS = 768;
const START = 1;
const END = 2;

/**
 * The small files that the transformers library wants beside Moonshine's two ONNX files, by file name.
 *
 * The vocabulary is Llama's 32,000 pieces with 768 added ones that never stand in text (Jeffries and others, 2024,
 * arXiv 2410.15608); the pieces and their merges come from llama-tokenizer-js.
 */
export function moonshineFiles(size: MoonshineSize): Record<string, string> {
  return {
    'config.json': json(modelConfig(size)),
    'generation_config.json': json({
      bos_token_id: START,
      eos_token_id: END,
      decoder_start_token_id: START,
      max_length: 194,
    }),
    'preprocessor_config.json': json({
      feature_extractor_type: 'Wav2Vec2FeatureExtractor',
      feature_size: 1,
      sampling_rate: 16000,
      padding_value: 0,
      do_normalize: false,
      return_attention_mask: true,
    }),
    'tokenizer_config.json': json({
      tokenizer_class: 'PreTrainedTokenizerFast',
      bos_token: '<s>',
      eos_token: '</s>',
      unk_token: '<unk>',
      clean_up_tokenization_spaces: false,
    }),
    'tokenizer.json': JSON.stringify(tokenizer()),
  };
}

function json(value: unknown): string {
  return JSON.stringify(value, null, 2);
}

function modelConfig({ hidden, intermediate, layers }: MoonshineSize): Record<string, unknown> {
  return {
    model_type: 'moonshine',
    architectures: ['MoonshineForConditionalGeneration'],
    is_encoder_decoder: true,
    hidden_size: hidden,
    intermediate_size: intermediate,
    encoder_num_hidden_layers: layers,
    decoder_num_hidden_layers: layers,
    encoder_num_attention_heads: HEADS,
    decoder_num_attention_heads: HEADS,
    encoder_num_key_value_heads: HEADS,
    decoder_num_key_value_heads: HEADS,
    vocab_size: 32000 + ADDED_TOKENS,
    bos_token_id: START,
    eos_token_id: END,
    decoder_start_token_id: START,
    max_position_embeddings: 194,
  };
}

function tokenizer(): Record<string, unknown> {
  const pieces = llamaTokenizer.vocabById;
  const special = (id: number, content: string) => ({
    id,
    content,
    single_word: false,
    lstrip: false,
    rstrip: false,
    normalized: false,
    special: true,
  });
  const added = Array.from({ length: ADDED_TOKENS }, (_, i) => special(pieces.length + i, `<<ST_${i}>>`));
  return {
    version: '1.0',
    truncation: null,
    padding: null,
    added_tokens: [special(0, '<unk>'), special(START, '<s>'), special(END, '</s>'), ...added],
    normalizer: {
      type: 'Sequence',
      normalizers: [
        { type: 'Prepend', prepend: '▁' },
        { type: 'Replace', pattern: { String: ' ' }, content: '▁' },
      ],
    },
    pre_tokenizer: null,
    post_processor: null,
    decoder: {
      type: 'Sequence',
      decoders: [
        { type: 'Replace', pattern: { String: '▁' }, content: ' ' },
        { type: 'ByteFallback' },
        { type: 'Fuse' },
        { type: 'Strip', content: ' ', start: 1, stop: 0 },
      ],
    },
    model: {
      type: 'BPE',
      dropout: null,
      unk_token: '<unk>',
      continuing_subword_prefix: null,
      end_of_word_suffix: null,
      fuse_unk: true,
      byte_fallback: true,
      vocab: Object.fromEntries(pieces.map((piece, id) => [piece, id])),
      merges: [...llamaTokenizer.merges].sort((a, b) => a[1] - b[1]).map(([pair]) => pair),
    },
  };
}
