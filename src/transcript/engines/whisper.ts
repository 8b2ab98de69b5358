import { basename } from 'node:path';
import { SAMPLE_RATE } from '../../recording/recording.ts';
import { attentionTable } from '../alignment/attention.ts';
import { wordConfidence, wordsOfPieces } from '../alignment/pieces.ts';
import { findPauses, loudness } from '../alignment/quiet.ts';
import { wordTimes } from '../alignment/word-times.ts';
import { homophoneMender } from '../glossary/homophones.ts';
import type { ListenFor } from '../glossary/listen-for.ts';
import { modelChecksum } from '../models/manifest.ts';
import { spreadWords } from '../spread-words.ts';
import type { ModelRef } from '../transcript.ts';
import { type Engine, type HeardRegion, type HeardWord, NOTHING_HEARD } from './engine.ts';
import { meanLog } from './probability-recorder.ts';
import {
  loadWhisper,
  WHISPER_FRAME_SECONDS,
  type WhisperDecoded,
  type WhisperModel,
} from './whisper-model.ts';

/** Fast talk stays under five tokens a second; a decoder that writes more is not listening. */
const TOKENS_PER_SECOND = 8;
const TOKENS_SPARE = 8;
/** 448 positions, less the opening tokens. */
const MOST_TOKENS = 440;
/** Shorter than one window of the spectrum. */
const LEAST_SAMPLES = 400;
/** The mark with which a byte-level vocabulary says that a word begins. */
const WORD_START = 'Ġ';

/** The recogniser for exported Whisper folders (Radford and others, 2022, arXiv 2212.04356). */
export async function openWhisper(
  folder: string,
  id: string = basename(folder),
  wanted?: ListenFor,
): Promise<Engine> {
  const ref = { id, sha256: await modelChecksum(folder) };
  return whisperEngine(await loadWhisper(folder, wanted), ref, homophoneMender(wanted?.numbers));
}

/**
 * Makes an engine of a Whisper model. Words are timed as Moonshine's are, by cross-attention, pauses and dips in loudness,
 * where the model was exported with its attention; otherwise each segment's words are spread over it.
 */
export function whisperEngine(
  model: WhisperModel,
  ref: ModelRef,
  mend: ReturnType<typeof homophoneMender> = homophoneMender(),
): Engine {
  return {
    model: ref,
    async recognise(samples, voice) {
      if (samples.length < LEAST_SAMPLES) return NOTHING_HEARD;
      const tokens = Math.ceil((samples.length / SAMPLE_RATE) * TOKENS_PER_SECOND) + TOKENS_SPARE;
      const decoded = await model.decode(samples, Math.min(MOST_TOKENS, tokens));
      const region = heardRegion(model, decoded, samples, voice);
      return { ...region, words: mend(region.words) };
    },
    close: () => model.close(),
  };
}

function heardRegion(
  model: WhisperModel,
  decoded: WhisperDecoded,
  samples: Float32Array,
  voice: Float32Array | undefined,
): HeardRegion {
  const { attention, probabilities, finished } = decoded;
  const seconds = samples.length / SAMPLE_RATE;
  const words = attention
    ? timedByAttention(model, { ...decoded, attention }, samples, voice)
    : timedBySegments(model, decoded, seconds);
  return { words, meanLogProbability: meanLog(probabilities), unfinished: !finished };
}

function timedByAttention(
  model: WhisperModel,
  {
    ids,
    pieces,
    probabilities,
    attention,
  }: WhisperDecoded & { attention: readonly (readonly Float32Array[])[] },
  samples: Float32Array,
  voice: Float32Array | undefined,
): HeardWord[] {
  const words = wordsOfPieces(pieces, WORD_START);
  if (words.length === 0) return [];
  const levels = loudness(samples);
  const spans = wordTimes({
    table: attentionTable(attention),
    columnSeconds: WHISPER_FRAME_SECONDS,
    lagSeconds: 0,
    words,
    pauses: findPauses(levels, voice),
    levels,
    seconds: samples.length / SAMPLE_RATE,
  });
  return words.flatMap(({ tokens }, index): HeardWord[] => {
    const text = model.text(tokens.map((token) => ids[token] ?? 0)).trim();
    const span = spans[index];
    if (!span || !/[\p{L}\p{N}]/u.test(text)) return [];
    return [{ text, ...span, confidence: wordConfidence(tokens.map((token) => probabilities[token] ?? 0)) }];
  });
}

/** A segment's words fill it; a missing end is the next start, or the region's end. */
function timedBySegments(
  model: WhisperModel,
  { ids, probabilities, segments }: WhisperDecoded,
  seconds: number,
): HeardWord[] {
  let reached = 0;
  return segments.flatMap((segment, index) => {
    const start = Math.min(seconds, Math.max(reached, segment.start));
    const end = Math.min(seconds, Math.max(start, segment.end ?? segments[index + 1]?.start ?? seconds));
    reached = end;
    const confidence = wordConfidence(probabilities.slice(segment.from, segment.to));
    const text = model.text(ids.slice(segment.from, segment.to));
    return spreadWords(text, { start, end })
      .filter((word) => /[\p{L}\p{N}]/u.test(word.text))
      .map((word) => ({ ...word, confidence }));
  });
}
