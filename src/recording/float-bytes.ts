import { createHash } from 'node:crypto';

/** SHA-256 in hex over numbers as they lie in memory: the same numbers, to the last bit, give the same checksum. */
export function digestOfFloats(values: Float32Array): string {
  return createHash('sha256').update(bytesOf(values)).digest('hex');
}

/** Numbers as base64, in which they lose nothing. */
export function textOfFloats(values: Float32Array): string {
  return Buffer.from(bytesOf(values)).toString('base64');
}

/** The numbers of a text that `textOfFloats` made. */
export function floatsOfText(text: string): Float32Array {
  const bytes = Uint8Array.from(Buffer.from(text, 'base64'));
  return new Float32Array(bytes.buffer, 0, Math.floor(bytes.length / Float32Array.BYTES_PER_ELEMENT));
}

function bytesOf({ buffer, byteOffset, byteLength }: Float32Array): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
