import { basename } from 'node:path';
import { PersonError } from '../../basics/problem.ts';
import type { ListenFor } from '../glossary/listen-for.ts';
import { phraseBias } from '../glossary/phrase-bias.ts';
import { buildTrie } from '../glossary/phrase-trie.ts';
import { tokenKinds, weighPhrases } from '../glossary/weigh-phrases.ts';
import { modelChecksum } from '../models/manifest.ts';
import { spreadWords } from '../spread-words.ts';
import type { ModelRef } from '../transcript.ts';
import { biasProcessor } from './bias-processor.ts';
import type { Engine, HeardWord } from './engine.ts';
import { libraryId, loadLibrary, sessionOptions } from './library.ts';
import { meanLog, probabilityRecorder } from './probability-recorder.ts';

/** What the library's speech recognition pipeline documents as its answer. */
export interface WhisperAnswer {
  readonly text: string;
  readonly chunks?: readonly {
    readonly text: string;
    readonly timestamp: readonly [number, number | null];
  }[];
}

/** One call of the pipeline. `probabilities` are those of the tokens it chose; empty where they are not known. */
export type WhisperRecogniser = (
  samples: Float32Array,
  timestamps: 'word' | true,
) => Promise<{ answer: WhisperAnswer; probabilities: readonly number[] }>;

/** What the library says of a model that was exported without its cross-attention. */
const NO_WORD_TIMES = /cross attentions|alignment_heads|token_timestamps/i;
/** What a model that does not tell its probabilities is taken to be sure of. */
const UNKNOWN_CONFIDENCE = 0.5;

/** The recogniser for exported Whisper folders (Radford and others, 2022, arXiv 2212.04356). */
export async function openWhisper(
  folder: string,
  id: string = basename(folder),
  wanted?: ListenFor,
): Promise<Engine> {
  const library = await loadLibrary();
  const transcriber = await library.pipeline('automatic-speech-recognition', libraryId(folder), {
    dtype: 'q8',
    device: 'cpu',
    session_options: sessionOptions(),
  });
  // The English models refuse a language; the others would guess one for each region.
  const language = id.includes('.en') ? {} : { language: 'en', task: 'transcribe' };
  const bias = wanted && wanted.phrases.length > 0 ? glossaryBias(transcriber.tokenizer, wanted) : null;
  const recognise: WhisperRecogniser = async (samples, timestamps) => {
    // The recorder looks first: a word's confidence is the model's own.
    const { list, probabilities } = probabilityRecorder(library);
    if (bias) list.push(biasProcessor(library, bias));
    const options = { ...language, return_timestamps: timestamps, logits_processor: list };
    const answer = await transcriber(samples, options as Parameters<typeof transcriber>[1]);
    return { answer: answer as WhisperAnswer, probabilities };
  };
  const model = { id, sha256: await modelChecksum(folder) };
  return whisperEngine(recognise, model, () => transcriber.dispose());
}

/** What of the library's tokenizers is used. */
interface Tokenizer {
  get_vocab(): Map<string, number>;
  encode(text: string, options: { add_special_tokens: boolean }): number[];
}

function glossaryBias(tokenizer: Tokenizer, wanted: ListenFor) {
  const pieces: string[] = [];
  for (const [piece, place] of tokenizer.get_vocab()) pieces[place] = piece;
  // Words inside a text of this vocabulary carry the space before them.
  const encode = (text: string) => tokenizer.encode(` ${text}`, { add_special_tokens: false });
  return phraseBias(buildTrie(weighPhrases(wanted, { pieces, encode })), tokenKinds(pieces));
}

/**
 * Makes an engine of a Whisper pipeline. Words are timed by the pipeline where the model was exported with its
 * cross-attention; otherwise each segment's words are spread over it.
 */
export function whisperEngine(
  recogniser: WhisperRecogniser,
  model: ModelRef,
  dispose: () => Promise<unknown>,
): Engine {
  let timestamps: 'word' | true = 'word';
  return {
    model,
    async recognise(samples) {
      const seconds = samples.length / 16000;
      const { answer, probabilities } = await recogniser(samples, timestamps).catch((error: unknown) => {
        if (timestamps === true || !(error instanceof Error) || !NO_WORD_TIMES.test(error.message))
          throw error;
        timestamps = true;
        return recogniser(samples, timestamps);
      });
      const mean = meanLog(probabilities);
      const confidence = mean === null ? UNKNOWN_CONFIDENCE : Math.exp(mean);
      return { words: wordsOf(answer, seconds, confidence), meanLogProbability: mean, unfinished: false };
    },
    async close() {
      await dispose();
    },
  };
}

/** Word chunks keep their times, segments are spread; a missing end is the next start, or the region's end. */
function wordsOf({ text, chunks }: WhisperAnswer, seconds: number, confidence: number): HeardWord[] {
  const parts = chunks ?? [{ text, timestamp: [0, null] as const }];
  let reached = 0;
  return parts.flatMap((part, index) => {
    const [from, to] = part.timestamp;
    if (!Number.isFinite(from)) throw new PersonError('The Whisper model gave words without times.');
    const start = Math.min(seconds, Math.max(reached, from));
    const end = Math.min(seconds, Math.max(start, to ?? parts[index + 1]?.timestamp[0] ?? seconds));
    reached = end;
    return spreadWords(part.text, { start, end }).map((word) => ({ ...word, confidence }));
  });
}
