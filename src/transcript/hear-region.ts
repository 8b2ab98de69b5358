import type { Engine, HeardRegion, HeardWord } from './engines/engine.ts';
import { isInvented } from './guards/invented.ts';
import { cutLoops, isLooping } from './guards/loops.ts';
import { quietestSample, secondsOf } from './guards/quietest.ts';
import { withoutHum } from './steady-hum.ts';

/** What a region came to, and what was done to it on the way. */
export interface RegionWords {
  /** Times in seconds from the region's start. */
  readonly words: readonly HeardWord[];
  /** Repeats were taken out because the recogniser went round in circles. */
  readonly cut: boolean;
  /** Words were left out because they were most likely heard into noise. */
  readonly dropped: readonly HeardWord[];
}

/** A stretch shorter than this is not halved again. */
const LEAST_SECONDS = 2;
const MOST_HALVINGS = 2;
/** Samples of one voice activity value. */
const VOICE_SAMPLES = 512;

/** A stretch of sound to be recognised. */
export interface Stretch {
  readonly samples: Float32Array;
  /** Speech probability for each 512 samples, where known. */
  readonly voice?: Float32Array | undefined;
  /** Where in the recording it begins, in seconds. */
  readonly start: number;
}

/**
 * Recognises a region and guards against what recognisers do with sound they cannot follow: going round in circles and
 * hearing words in noise. A region that loops is halved at its quietest place and heard again; what still loops after that
 * keeps the first round of it. A steady hum is taken out before. Nothing is done in silence: the caller is told.
 */
export async function hearRegion(engine: Engine, stretch: Stretch, halvings = 0): Promise<RegionWords> {
  const { samples, voice, start } = stretch;
  const heard = await engine.recognise(withoutHum(samples), voice, start);
  if (looped(heard)) {
    if (halvings < MOST_HALVINGS && secondsOf(samples) >= LEAST_SECONDS) {
      return hearHalves(engine, stretch, halvings + 1);
    }
    return { words: cutLoops(heard.words), cut: true, dropped: [] };
  }
  if (isInvented(heard, secondsOf(samples), voice)) return { words: [], cut: false, dropped: heard.words };
  return { words: heard.words, cut: false, dropped: [] };
}

function looped({ words, unfinished }: HeardRegion): boolean {
  return unfinished || isLooping(words.map((word) => word.text));
}

async function hearHalves(engine: Engine, stretch: Stretch, halvings: number): Promise<RegionWords> {
  const { samples, voice, start } = stretch;
  // On a whole voice step, so that both halves keep theirs.
  const step = Math.round(quietestSample(samples) / VOICE_SAMPLES);
  const middle = step * VOICE_SAMPLES;
  const offset = secondsOf(samples.subarray(0, middle));
  const first = { samples: samples.slice(0, middle), voice: voice?.subarray(0, step), start };
  const second = { samples: samples.slice(middle), voice: voice?.subarray(step), start: start + offset };
  const left = await hearRegion(engine, first, halvings);
  const right = await hearRegion(engine, second, halvings);
  const later = (word: HeardWord): HeardWord => ({
    ...word,
    start: word.start + offset,
    end: word.end + offset,
  });
  return {
    words: [...left.words, ...right.words.map(later)],
    cut: left.cut || right.cut,
    dropped: [...left.dropped, ...right.dropped.map(later)],
  };
}
