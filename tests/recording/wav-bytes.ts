/** WAV files put together by hand, for headers that no writing library makes. */

export interface Chunk {
  readonly id: string;
  readonly body: Uint8Array;
  /** What the header says; the body's length where it is left out. */
  readonly size?: number;
  /** Leave out the filling byte behind an odd body. */
  readonly unpadded?: boolean;
}

const SUBFORMAT_REST = [0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xaa, 0x00, 0x38, 0x9b, 0x71];

/** The body of a 'fmt ' chunk; with `mask` it is WAVE_FORMAT_EXTENSIBLE and the tag goes into the SubFormat GUID. */
export function fmt(tag: number, channels: number, rate: number, bits: number, mask?: number): Chunk {
  const body = new Uint8Array(mask === undefined ? 16 : 40);
  const view = new DataView(body.buffer);
  const block = (channels * bits) / 8;
  view.setUint16(0, mask === undefined ? tag : 0xfffe, true);
  view.setUint16(2, channels, true);
  view.setUint32(4, rate, true);
  view.setUint32(8, rate * block, true);
  view.setUint16(12, block, true);
  view.setUint16(14, bits, true);
  if (mask !== undefined) {
    view.setUint16(16, 22, true);
    view.setUint16(18, bits, true);
    view.setUint32(20, mask, true);
    view.setUint16(24, tag, true);
    body.set(SUBFORMAT_REST, 26);
  }
  return { id: 'fmt ', body };
}

/** The 'ds64' chunk of EBU Tech 3306: sizes of 64 bits for the file, the sound and its frames, then an empty table. */
export function ds64(dataBytes: number): Chunk {
  const body = new Uint8Array(28);
  const view = new DataView(body.buffer);
  view.setBigUint64(0, BigInt(dataBytes + 72), true);
  view.setBigUint64(8, BigInt(dataBytes), true);
  return { id: 'ds64', body };
}

export function wav(chunks: readonly Chunk[], form = 'RIFF', riffSize?: number): Uint8Array {
  const parts: number[] = [];
  for (const { id, body, size, unpadded } of chunks) {
    const header = new Uint8Array(8);
    new DataView(header.buffer).setUint32(4, size ?? body.length, true);
    header.set(new TextEncoder().encode(id));
    for (const byte of header) parts.push(byte);
    for (const byte of body) parts.push(byte);
    if (body.length % 2 && !unpadded) parts.push(0);
  }
  const file = new Uint8Array(12 + parts.length);
  file.set(new TextEncoder().encode(`${form}    WAVE`));
  new DataView(file.buffer).setUint32(4, riffSize ?? file.length - 8, true);
  file.set(parts, 12);
  return file;
}

/** 16-bit little-endian bytes of samples of -1 to 1. */
export function int16(samples: Float32Array): Uint8Array {
  const bytes = new Uint8Array(2 * samples.length);
  const view = new DataView(bytes.buffer);
  samples.forEach((sample, i) => {
    view.setInt16(2 * i, Math.round(sample * 32767), true);
  });
  return bytes;
}

export function float32(samples: Float32Array): Uint8Array {
  const bytes = new Uint8Array(4 * samples.length);
  const view = new DataView(bytes.buffer);
  samples.forEach((sample, i) => {
    view.setFloat32(4 * i, sample, true);
  });
  return bytes;
}
