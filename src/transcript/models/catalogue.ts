import { PersonError } from '../../basics/problem.ts';

/** One file of a model and its SHA-256 in hex. */
export interface ModelFile {
  readonly path: string;
  readonly sha256: string;
}

/** What is known of a model before it is on the machine. */
export interface ModelEntry {
  readonly id: string;
  readonly family: 'moonshine' | 'whisper';
  /** Size of its weights in bytes; for a model that must be fetched it is rounded. */
  readonly size: number;
  readonly licence: string;
  /** Language codes, or 'many'. */
  readonly languages: readonly string[];
  /** The weights that come with critsheet; empty where the model must be fetched. */
  readonly files: readonly ModelFile[];
  /** Where the weights come from, in words. */
  readonly origin: string;
  /** Whether its words can be timed by attention; otherwise they are spread over each segment. */
  readonly wordTimes: boolean;
  /** Its public id at the model hub, for `prepare`; null where it comes with critsheet. */
  readonly publicId: string | null;
}

export const DEFAULT_MODEL = 'moonshine-base';

function moonshine(id: string, size: number, encoder: string, decoder: string): ModelEntry {
  return {
    id,
    family: 'moonshine',
    size,
    licence: 'MIT',
    languages: ['en'],
    files: [
      { path: 'encoder_model.onnx', sha256: encoder },
      { path: 'decoder_model_merged.onnx', sha256: decoder },
    ],
    origin: 'comes with critsheet (the 8-bit ONNX files of @usefulsensors/moonshine-js 0.1.16)',
    wordTimes: true,
    publicId: null,
  };
}

function whisper(id: string, megabytes: number, language: string, wordTimes: boolean): ModelEntry {
  return {
    id,
    family: 'whisper',
    size: megabytes * 1_000_000,
    licence: 'MIT',
    languages: [language],
    files: [],
    origin: 'fetched from the public model hub when asked for',
    wordTimes,
    publicId: `onnx-community/${id}`,
  };
}

/** Every model known, the ones that come with critsheet first. */
export const MODELS: readonly ModelEntry[] = [
  moonshine(
    'moonshine-base',
    63_011_933,
    '1dd9ab0a7f987113d30affcba5a068d11c8f90fa0223caa3e491ade431ad9751',
    'cc9f3cd6698a369c6008b41aa60aa3fb3322e7f03c9bdf19d8e6b7200afca4f3',
  ),
  moonshine(
    'moonshine-tiny',
    28_180_947,
    'c6fc4b7bc5af75c0591fd157a1f3829b533d18e9769a888fd95a62e470dd4f4a',
    'eed87831c3a6103534aae7d47a5d485025c659a1323901513961c39fe8a1a367',
  ),
  whisper('whisper-tiny.en', 41, 'en', false),
  whisper('whisper-tiny.en_timestamped', 42, 'en', true),
  whisper('whisper-base.en', 77, 'en', false),
  whisper('whisper-base.en_timestamped', 82, 'en', true),
  whisper('whisper-small.en', 249, 'en', false),
  whisper('whisper-small.en_timestamped', 253, 'en', true),
  whisper('whisper-large-v3-turbo', 1080, 'many', false),
  whisper('whisper-large-v3-turbo_timestamped', 1085, 'many', true),
];

/**
 * The entry of a model id.
 *
 * @throws PersonError for an id nobody knows; the message lists the known ones.
 */
export function findModel(id: string): ModelEntry {
  const entry = MODELS.find((model) => model.id === id);
  if (entry) return entry;
  throw new PersonError(
    `There is no model called "${id}": choose one of ${MODELS.map((model) => model.id).join(', ')}, or give the folder of an exported model.`,
  );
}
