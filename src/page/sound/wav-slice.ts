import { SAMPLE_RATE } from '../../recording/recording.ts';

const HEADER_BYTES = 44;

/** Samples of 16 kHz and one channel, -1 to 1, as a WAV file of 16 bits (RIFF WAVE, PCM). */
export function wavOf(samples: Float32Array): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(HEADER_BYTES + 2 * samples.length);
  const view = new DataView(bytes.buffer);
  const mark = (at: number, text: string): void => {
    for (let i = 0; i < text.length; i++) bytes[at + i] = text.charCodeAt(i);
  };
  mark(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  mark(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, SAMPLE_RATE, true);
  view.setUint32(28, 2 * SAMPLE_RATE, true);
  view.setUint16(32, 2, true);
  view.setUint16(34, 16, true);
  mark(36, 'data');
  view.setUint32(40, 2 * samples.length, true);
  samples.forEach((sample, i) => {
    view.setInt16(HEADER_BYTES + 2 * i, Math.round(Math.max(-1, Math.min(1, sample)) * 32767), true);
  });
  return bytes;
}
