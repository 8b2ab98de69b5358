import { createMp3Encoder } from 'wasm-media-encoders';
import { SAMPLE_RATE } from '../../recording/recording.ts';

export const MP3 = 'audio/mpeg';

/** Speech at 16 kHz is plainly understood at this rate; a minute takes 240 kB. */
const KILOBITS_A_SECOND = 32;

/**
 * Seconds of silence that players give before an mp3's first sample: LAME puts 576 samples in front, and decoding adds
 * 528 and one (LAME technical FAQ, "Why is a decoded MP3 longer than the original").
 */
export const MP3_LEAD_SECONDS = (576 + 529) / SAMPLE_RATE;

const SLICE_SAMPLES = SAMPLE_RATE;

/** Samples at 16 kHz, one channel, as mp3. The encoder is wasm from a package: it is at hand on every machine. */
export async function encodeMp3(samples: Float32Array): Promise<Uint8Array> {
  const encoder = await createMp3Encoder();
  encoder.configure({ sampleRate: SAMPLE_RATE, channels: 1, bitrate: KILOBITS_A_SECOND });
  const pieces: Buffer[] = [];
  for (let from = 0; from < samples.length; from += SLICE_SAMPLES) {
    // The encoder's own memory is used again for the next slice: copied before that.
    pieces.push(Buffer.from(encoder.encode([samples.subarray(from, from + SLICE_SAMPLES)])));
  }
  pieces.push(Buffer.from(encoder.finalize()));
  return Buffer.concat(pieces);
}
