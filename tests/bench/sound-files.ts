import { readFileSync } from 'node:fs';

/** A word of a transcript that is taken for true; seconds. */
export interface TimedWord {
  readonly word: string;
  readonly start: number;
  readonly end: number;
}

const HEADER_BYTES = 44;

/** Reads 16-bit mono WAV as tools of speech write it: the first channel's samples, -1 to 1, and their rate. */
export function wavSamples(bytes: Buffer): { samples: Float32Array; rate: number } {
  const format = bytes.indexOf('fmt ');
  const data = bytes.indexOf('data');
  const stated = bytes.readUInt32LE(data + 4);
  const length = Math.min(stated, bytes.length - data - 8) >> 1;
  const samples = Float32Array.from(
    { length },
    (_, index) => bytes.readInt16LE(data + 8 + index * 2) / 32768,
  );
  return { samples, rate: bytes.readUInt32LE(format + 12) };
}

/** Reads 16-bit 16 kHz mono WAV, which is what the fixtures are. */
export function readSamples(path: string): Float32Array {
  return wavSamples(readFileSync(path)).samples;
}

/** A 16-bit mono WAV; what goes over full scale is cut off there. */
export function wavBytes(samples: Float32Array, rate = 16000): Buffer {
  const bytes = Buffer.alloc(HEADER_BYTES + samples.length * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(HEADER_BYTES - 8 + samples.length * 2, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((sample, i) => {
    const value = Math.round(Math.max(-1, Math.min(1, sample)) * 32767);
    bytes.writeInt16LE(value, HEADER_BYTES + i * 2);
  });
  return bytes;
}
