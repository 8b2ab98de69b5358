import wavefile from 'wavefile';
import type { WavFormat } from './wav-format.ts';

/** Turns the bytes of a slice into samples of -1 to 1, channels still side by side; fills `out`. */
export type SampleReader = (bytes: DataView, out: Float32Array) => void;

/**
 * Gives the reader for a format. 8-bit integers count from 0 with silence at 128, longer ones are signed
 * (IBM and Microsoft, Multimedia Programming Interface 1.0, "Data Format of the Samples").
 */
export function sampleReaderFor(format: WavFormat): SampleReader {
  const low = !format.bigEndian;
  switch (format.encoding) {
    case 'float':
      return format.bytesPerSample === 4
        ? (bytes, out) => fill(out, (i) => bytes.getFloat32(4 * i, low))
        : (bytes, out) => fill(out, (i) => bytes.getFloat64(8 * i, low));
    case 'a-law':
    case 'mu-law': {
      const levels = telephoneLevels(format.encoding);
      return (bytes, out) => fill(out, (i) => levels[bytes.getUint8(i)] ?? 0);
    }
    case 'integer':
      return integerReader(format.bytesPerSample, low);
  }
}

function integerReader(bytesPerSample: number, low: boolean): SampleReader {
  if (bytesPerSample === 1) return (bytes, out) => fill(out, (i) => (bytes.getUint8(i) - 128) / 2 ** 7);
  if (bytesPerSample === 2) return (bytes, out) => fill(out, (i) => bytes.getInt16(2 * i, low) / 2 ** 15);
  if (bytesPerSample === 4) return (bytes, out) => fill(out, (i) => bytes.getInt32(4 * i, low) / 2 ** 31);
  // Three bytes: the two lower ones as one number, the upper one with the sign.
  const lower = low ? 0 : 1;
  const upper = low ? 2 : 0;
  return (bytes, out) =>
    fill(out, (i) => (bytes.getInt8(3 * i + upper) * 65536 + bytes.getUint16(3 * i + lower, low)) / 2 ** 23);
}

function fill(out: Float32Array, sampleAt: (index: number) => number): void {
  for (let i = 0; i < out.length; i++) out[i] = sampleAt(i);
}

/** What each of the 256 codes of G.711 stands for, by wavefile. */
function telephoneLevels(law: 'a-law' | 'mu-law'): Float32Array {
  const wav = new wavefile.WaveFile();
  const codes = Uint8Array.from({ length: 256 }, (_, code) => code);
  wav.fromScratch(1, 8000, law === 'a-law' ? '8a' : '8m', codes);
  if (law === 'a-law') wav.fromALaw();
  else wav.fromMuLaw();
  return Float32Array.from(wav.getSamples(), (level) => level / 2 ** 15);
}
