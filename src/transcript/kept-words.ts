import { z } from 'zod';
import type { Ingredients, KeptKind } from '../basics/kept.ts';
import { digestOfFloats } from '../recording/float-bytes.ts';
import { RECORDING_VERSION } from '../recording/open-recording.ts';
import { VOICE_VERSION } from '../recording/voice.ts';
import type { ModelIdentity } from './engines/identify-model.ts';
import { LISTEN_FOR_NOTHING, type ListenFor } from './glossary/listen-for.ts';
import type { RegionWords, Stretch } from './hear-region.ts';
import { transcriptSchema } from './transcript.ts';

/** Raise it when the same stretch of sound may come out with other words, times or confidences. */
export const REGION_VERSION = 7;
/** Raise it when the same recording may be cut into other regions, or its regions be put together otherwise. */
export const TRANSCRIPT_VERSION = 7;

const heardWordSchema = z.object({
  text: z.string(),
  start: z.number(),
  end: z.number(),
  confidence: z.number(),
  heard: z.string().optional(),
});

export const KEPT_REGION: KeptKind<RegionWords> = {
  name: 'region',
  version: REGION_VERSION,
  schema: z.object({
    words: z.array(heardWordSchema),
    cut: z.boolean(),
    dropped: z.array(heardWordSchema),
  }),
};

const keptTranscriptSchema = z.object({
  words: transcriptSchema.shape.words,
  problems: z.array(z.object({ stage: z.string(), message: z.string() })),
});
/** The words of a whole recording, and what was noticed in hearing them. */
export type KeptTranscript = z.infer<typeof keptTranscriptSchema>;

export const KEPT_TRANSCRIPT: KeptKind<KeptTranscript> = {
  name: 'transcript',
  version: TRANSCRIPT_VERSION,
  schema: keptTranscriptSchema,
};

/** What the words depend on beside the sound. An option that changes what is heard is added here, and to `hearingOf`. */
export interface Hearing {
  readonly model: ModelIdentity;
  readonly listenFor?: ListenFor | undefined;
}

function hearingOf({ model, listenFor = LISTEN_FOR_NOTHING }: Hearing): Ingredients {
  const phrases = listenFor.phrases.map(({ text, source }) => `${source} ${text}`);
  const numbers = JSON.stringify(listenFor.numbers ?? null);
  return { model: { id: model.ref.id, content: model.content }, phrases, numbers };
}

/** What the words of a region depend on: its very samples, wherever they come from. */
export function regionIngredients(
  hearing: Hearing,
  stretch: Stretch & { readonly last: boolean },
): Ingredients {
  const { samples, voice, last } = stretch;
  return {
    hearing: hearingOf(hearing),
    samples: digestOfFloats(samples),
    voice: voice ? digestOfFloats(voice) : null,
    last,
  };
}

/**
 * What the words of a recording depend on. Which decoder read the file is left out: they agree to within rounding.
 *
 * @param sha256 The recording's.
 * @param voiceModel Checksum of the voice activity model.
 */
export function transcriptIngredients(hearing: Hearing, sha256: string, voiceModel: string): Ingredients {
  const versions = { recording: RECORDING_VERSION, voice: VOICE_VERSION, region: REGION_VERSION };
  return { hearing: hearingOf(hearing), recording: sha256, voiceModel, versions };
}
