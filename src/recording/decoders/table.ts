import { PersonError } from '../../basics/problem.ts';
import type { Watch } from '../recording.ts';
import type { SoundFile } from '../sound-file.ts';
import type { Decoded, Decoder, Refusal } from './decoder.ts';
import { ffmpegDecoder } from './ffmpeg.ts';
import { nodeAvDecoder } from './node-av.ts';
import { wavDecoder } from './wav.ts';

/** Every decoder, in the order they are tried: WAV needs nothing, node-av needs no program, ffmpeg is what people have. */
export const DECODERS: readonly Decoder[] = [wavDecoder, nodeAvDecoder, ffmpegDecoder];

/**
 * Decodes with the first decoder that can.
 * @throws PersonError with the most telling reason where none can; the signal's reason when it is stopped
 */
export async function decodeSound(
  file: SoundFile,
  watch: Watch = {},
  decoders: readonly Decoder[] = DECODERS,
): Promise<Decoded> {
  const refusals: Refusal[] = [];
  for (const decoder of decoders) {
    watch.signal?.throwIfAborted();
    const outcome = await decoder.decode(file, watch);
    if (!('refused' in outcome)) return outcome;
    refusals.push(outcome);
  }
  throw new PersonError(sentenceFor(file, refusals));
}

/** What the person reads. A decoder that looked into the file knows more than one that is not there. */
function sentenceFor(file: SoundFile, refusals: readonly Refusal[]): string {
  const because = (kind: Refusal['refused']) => refusals.find(({ refused }) => refused === kind)?.because;
  if (because('silent')) {
    return `${file.name} has no sound in it: give the recording that holds the voice.`;
  }
  const damaged = because('damaged');
  if (damaged) {
    return `${file.name} cannot be read (${damaged}): it is damaged or no recording. Export or copy it again, or save it as WAV.`;
  }
  if (because('absent')) {
    const what = file.kind === 'wav' ? `holds ${because('foreign')}` : 'is not a WAV';
    return (
      `${file.name} ${what}, and nothing that reads it is installed here: ` +
      'save it as WAV (16-bit PCM), or install ffmpeg, or node-av with "npm install node-av".'
    );
  }
  const [, foreign = refusals[0]] = refusals;
  return `${file.name} holds sound of a kind that is not known here (${foreign?.because}): save it as WAV (16-bit PCM).`;
}
