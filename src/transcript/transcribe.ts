import { type Kept, keptOr } from '../basics/kept.ts';
import type { Problem } from '../basics/problem.ts';
import { type Recording, SAMPLE_RATE } from '../recording/recording.ts';
import { findRegions, type Region } from '../recording/regions.ts';
import { findVoice, type VoiceTrack } from '../recording/voice.ts';
import type { Engine } from './engines/engine.ts';
import { engineWhenNeeded } from './engines/engine-when-needed.ts';
import { identifyModel } from './engines/identify-model.ts';
import { openEngine } from './engines/open-engine.ts';
import { stoppableEngine } from './engines/stoppable-engine.ts';
import type { ListenFor } from './glossary/listen-for.ts';
import { partAfterthoughts } from './guards/afterthoughts.ts';
import { hearRegion, type RegionWords, type Stretch } from './hear-region.ts';
import { joinRegions } from './join-regions.ts';
import { KEPT_REGION, regionIngredients } from './kept-words.ts';
import { DEFAULT_MODEL } from './models/catalogue.ts';
import { sileroPath } from './models/embedded-files.ts';
import { regionProblems } from './region-problems.ts';
import { type Transcript, transcriptSchema } from './transcript.ts';

/** Which part of the work is under way, and how much of it is done, 0 to 1. */
export interface TranscribeProgress {
  readonly stage: 'model' | 'voice' | 'words';
  readonly fraction: number;
}

export interface TranscribeOptions {
  /** A model id of the catalogue, or the folder of an exported model; the default model where it is left out. */
  readonly model?: string | undefined;
  /** Words that are likely to be said; plain data, on which what is heard depends beside the sound and the model. */
  readonly listenFor?: ListenFor | undefined;
  /** Where regions that were heard are kept, if anywhere: what is there is not heard again. */
  readonly kept?: Kept | undefined;
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: TranscribeProgress) => void) | undefined;
}

/** Silence after a recording that ends in mid-word; without it the recogniser loses that word. */
const END_SILENCE = 0.4;

/**
 * Turns a recording into timed words, wholly on this machine.
 *
 * @param recording 16 kHz mono sound.
 * @returns The transcript, and what the listener should know: loops cut, words left out as invented.
 * @throws PersonError where the model is unknown, absent or damaged; the signal's reason where it was aborted.
 */
export async function transcribe(
  recording: Recording,
  options: TranscribeOptions = {},
): Promise<{ transcript: Transcript; problems: Problem[] }> {
  const { signal, onProgress, model = DEFAULT_MODEL, listenFor } = options;
  const tell = (stage: TranscribeProgress['stage'], fraction: number) => onProgress?.({ stage, fraction });
  signal?.throwIfAborted();
  tell('model', 0);
  const identity = options.kept ? await identifyModel(model) : null;
  const kept = identity ? options.kept : undefined;
  const open = () => stoppableEngine(openEngine(model, { listenFor }), signal);
  const engine = identity ? engineWhenNeeded(identity.ref, open) : await open();
  try {
    tell('model', 1);
    const track = await findVoice(recording.samples, sileroPath(), {
      signal,
      kept,
      onProgress: (fraction) => tell('voice', fraction),
    });
    const regions = findRegions(track, recording.samples);
    const heard: RegionWords[] = [];
    for (const region of regions) {
      tell('words', heard.length / regions.length);
      signal?.throwIfAborted();
      const stretch = stretchOf(recording.samples, track, region);
      const hear = () => hearOne(engine, stretch);
      const of = identity && (() => regionIngredients({ model: identity, listenFor }, stretch));
      heard.push(of ? await keptOr(kept, KEPT_REGION, of, hear) : await hear());
    }
    tell('words', 1);
    const { file, sha256, duration } = recording;
    const transcript = transcriptSchema.parse({
      schema: 'critsheet-transcript/1',
      recording: { file, sha256, duration },
      model: engine.model,
      words: joinRegions(regions, heard),
    });
    return { transcript, problems: regionProblems(regions, heard) };
  } finally {
    await engine.close();
  }
}

/** The sound of a region, and whether the recording ends with it. */
interface RegionSound extends Stretch {
  readonly last: boolean;
}

function stretchOf(all: Float32Array, track: VoiceTrack, region: Region): RegionSound {
  const { start, end } = region.hear;
  return {
    samples: all.slice(Math.round(start * SAMPLE_RATE), Math.round(end * SAMPLE_RATE)),
    voice: track.probabilities.subarray(
      Math.round(start / track.stepSeconds),
      Math.ceil(end / track.stepSeconds),
    ),
    start,
    last: end * SAMPLE_RATE >= all.length - 1,
  };
}

async function hearOne(engine: Engine, { last, ...stretch }: RegionSound): Promise<RegionWords> {
  if (!last) return hearRegion(engine, stretch);
  const heard = await hearRegion(engine, { ...stretch, samples: withSilence(stretch.samples) });
  const { said, invented } = partAfterthoughts(heard.words, stretch.samples.length / SAMPLE_RATE);
  return { ...heard, words: said, dropped: [...heard.dropped, ...invented] };
}

function withSilence(sound: Float32Array): Float32Array {
  const longer = new Float32Array(sound.length + Math.round(END_SILENCE * SAMPLE_RATE));
  longer.set(sound);
  return longer;
}
