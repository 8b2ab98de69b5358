import { SAMPLE_RATE } from '../recording.ts';

/**
 * The filter chain that both FFmpeg decoders run: to 16 kHz with a filter long enough that nothing above 8 kHz folds back
 * (the default one lets 8.5 kHz through at -26 dB), silence put back where the sound begins late or has holes, so that
 * seconds stay those of the file; then one channel of floats. FFmpeg's own mix leaves out the low-frequency effects.
 *
 * `startSeconds` is where the file's own clock begins: sound that begins later than the picture is late, but an mp3
 * whose clock begins with its encoder's delay is not.
 */
export function filterFrom(startSeconds: number): string {
  return (
    `aresample=${SAMPLE_RATE}:filter_size=64:cutoff=0.95:async=1:first_pts=${Math.round(startSeconds * SAMPLE_RATE)},` +
    'aformat=sample_fmts=flt:channel_layouts=mono'
  );
}

/** Nothing but files: a container that names an address must not make the decoder go there. */
export const PROTOCOLS = 'file';

/** Kinds whose header states their length; in the others it is a guess from the bit rate. */
const KINDS_WITH_LENGTH = ['mp4', 'matroska', 'flac', 'wav'];

/** A sentence where much less sound came than the file says it lasts (2 % and a second of grace: pictures may run longer). */
export function cutShort(
  file: { readonly name: string; readonly kind: string },
  samples: number,
  statedSeconds: number,
): string | null {
  const seconds = samples / SAMPLE_RATE;
  if (!KINDS_WITH_LENGTH.includes(file.kind) || seconds >= 0.98 * statedSeconds - 1) return null;
  return (
    `${file.name} says it lasts ${statedSeconds.toFixed(1)} s, but its sound ends at ${seconds.toFixed(1)} s; ` +
    'what is there was read.'
  );
}
