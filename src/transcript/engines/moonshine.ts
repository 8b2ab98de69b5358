import { basename } from 'node:path';
import { SAMPLE_RATE } from '../../recording/recording.ts';
import { attentionTable, type Head } from '../alignment/attention.ts';
import { wordConfidence, wordsOfPieces } from '../alignment/pieces.ts';
import { findPauses, loudness } from '../alignment/quiet.ts';
import { wordTimes } from '../alignment/word-times.ts';
import { homophoneMender } from '../glossary/homophones.ts';
import { LISTEN_FOR_NOTHING, type ListenFor } from '../glossary/listen-for.ts';
import { type SpelledWord, soundAlikeMender } from '../glossary/sound-alikes.ts';
import { modelChecksum } from '../models/manifest.ts';
import { type Engine, type HeardRegion, NOTHING_HEARD } from './engine.ts';
import { type Decoded, loadMoonshine, type MoonshineModel } from './moonshine-model.ts';
import { meanLog } from './probability-recorder.ts';

/** Which heads follow the sound, and how much later or earlier than the word they do. */
interface Timing {
  readonly heads: readonly Head[];
  readonly lagSeconds: number;
}

// Chosen by adding heads one at a time while the mean error on hand-timed and synthesised speech fell (tests/bench).
const TIMING: Readonly<Record<string, Timing>> = {
  'moonshine-base': {
    heads: [
      { layer: 6, head: 4 },
      { layer: 5, head: 1 },
    ],
    lagSeconds: -0.022,
  },
  'moonshine-tiny': {
    heads: [
      { layer: 5, head: 6 },
      { layer: 3, head: 7 },
    ],
    lagSeconds: 0.01,
  },
};

/** Fast talk stays under five tokens a second; a decoder that writes more is not listening. */
const TOKENS_PER_SECOND = 6.5;
const TOKENS_SPARE = 4;
/** The positions the decoder was trained with. */
const MOST_TOKENS = 192;
/** The encoder's three convolutions need this much sound to give a frame. */
const LEAST_SAMPLES = 1024;
/** Strides of those convolutions multiplied: 64, 3 and 2. */
const FRAME_SECONDS = (64 * 3 * 2) / SAMPLE_RATE;

const VOICE_STEP_SECONDS = 512 / SAMPLE_RATE;
const VOICED = 0.5;
/** A voice that lasts this long says a word. */
const CLEARLY_SPOKEN_SECONDS = 0.4;

/** The recogniser for Moonshine folders (Jeffries and others, 2024, arXiv 2410.15608). English. */
export async function openMoonshine(
  folder: string,
  id: string = basename(folder),
  wanted?: ListenFor,
): Promise<Engine> {
  const timing = TIMING[id];
  if (!timing) throw new Error(`no heads are known for ${id}`);
  const model = await loadMoonshine(folder, timing.heads, wanted);
  const mendWords = soundAlikeMender(wanted ?? LISTEN_FOR_NOTHING);
  const mendNumbers = homophoneMender(wanted?.numbers);
  const mend: Mender = (words) => mendNumbers(mendWords(words));
  return moonshineEngine(model, timing, { id, sha256: await modelChecksum(folder) }, mend);
}

type Mender = ReturnType<typeof soundAlikeMender>;

function moonshineEngine(model: MoonshineModel, timing: Timing, ref: Engine['model'], mend: Mender): Engine {
  return {
    model: ref,
    async recognise(samples, voice) {
      if (samples.length < LEAST_SAMPLES) return NOTHING_HEARD;
      const tokens = Math.ceil((samples.length / SAMPLE_RATE) * TOKENS_PER_SECOND) + TOKENS_SPARE;
      const decoded = await model.decode(samples, {
        leastTokens: isVoiced(voice) ? 1 : 0,
        maxTokens: Math.min(MOST_TOKENS, tokens),
      });
      const region = heardRegion(model, decoded, timing.lagSeconds, samples, voice);
      return { ...region, words: mend(region.words) };
    },
    close: () => model.close(),
  };
}

/** Whether somebody clearly speaks: it is then not likely that nothing was said. */
function isVoiced(voice: Float32Array | undefined): boolean {
  const voiced = voice?.filter((probability) => probability >= VOICED).length ?? 0;
  return voiced * VOICE_STEP_SECONDS >= CLEARLY_SPOKEN_SECONDS;
}

function heardRegion(
  model: MoonshineModel,
  decoded: Decoded,
  lagSeconds: number,
  samples: Float32Array,
  voice: Float32Array | undefined,
): HeardRegion & { readonly words: readonly SpelledWord[] } {
  const { pieces, ids, probabilities, attention, finished } = decoded;
  const words = wordsOfPieces(pieces);
  const levels = loudness(samples);
  const spans = wordTimes({
    table: attentionTable(attention),
    columnSeconds: FRAME_SECONDS,
    lagSeconds,
    words,
    pauses: findPauses(levels, voice),
    levels,
    seconds: samples.length / SAMPLE_RATE,
  });
  const heard = words.flatMap(({ tokens, first, last }, index): SpelledWord[] => {
    const text = model.text(tokens.map((token) => ids[token] ?? 0)).trim();
    const span = spans[index];
    if (!span || !/[\p{L}\p{N}]/u.test(text)) return [];
    const confidence = wordConfidence(tokens.map((token) => probabilities[token] ?? 0));
    return [{ text, start: span.start, end: span.end, confidence, isSpelled: last > first }];
  });
  return { words: heard, meanLogProbability: meanLog(probabilities), unfinished: !finished };
}
