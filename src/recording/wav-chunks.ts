import type { FileHandle } from 'node:fs/promises';
import { PersonError } from '../basics/problem.ts';
import type { SoundFile } from './sound-file.ts';

/** Where the parts of a WAV lie on disk. */
export interface WavChunks {
  /** RIFX: numbers and samples have their high byte first. */
  readonly bigEndian: boolean;
  /** The body of the 'fmt ' chunk. */
  readonly format: Uint8Array;
  readonly dataStart: number;
  /** Bytes of sound that are there. */
  readonly dataBytes: number;
  /** Bytes of sound the header promises; null where the writer could not go back and fill it in. */
  readonly promisedBytes: number | null;
}

/** From here on a 32-bit size is a streaming writer's stand-in: 0xFFFFFFFF, or 0x7FFFF000 and above. */
const STAND_IN_BYTES = 0x7ffff000;
/** Longest sensible 'fmt ' chunk: extensible is 40 bytes, compressed ones a little more. */
const FORMAT_BYTES = 1024;
const CHUNK_NAME = /^[A-Za-z0-9_ ]{4}$/;
/** Chunks that writers put behind the sound: before one of them, a data size of 0 means what it says. */
const LATER_CHUNKS = ['LIST', 'id3 ', 'ID3 ', 'bext', 'iXML', 'cue ', 'fact', 'smpl', '_PMX', 'axml'];

/**
 * Walks the chunks of a RIFF, RIFX, RF64 or BW64 file without reading the sound, so that a file of any size costs a few reads.
 * 64-bit sizes come from the 'ds64' chunk (EBU Tech 3306, ITU-R BS.2088).
 * @throws PersonError where a chunk that must be there is not
 */
export async function findWavChunks(handle: FileHandle, file: SoundFile): Promise<WavChunks> {
  const { name, bytes } = file;
  const head = await readAt(handle, file.startByte, 4);
  const bigEndian = nameOf(head) === 'RIFX';
  let format: Uint8Array | null = null;
  let longDataBytes: number | null = null;
  for (let at = file.startByte + 12; at + 8 <= bytes; ) {
    const header = await readAt(handle, at, 8);
    const id = nameOf(header);
    const size = header.getUint32(4, !bigEndian);
    const body = at + 8;
    if (id === 'ds64') {
      const sizes = await readAt(handle, body, 16);
      if (sizes.byteLength === 16) longDataBytes = Number(sizes.getBigUint64(8, true));
    } else if (id === 'fmt ') {
      const view = await readAt(handle, body, Math.min(size, FORMAT_BYTES));
      format = new Uint8Array(view.buffer, 0, view.byteLength);
    } else if (id === 'data') {
      if (!format || format.length < 16) break;
      const there = bytes - body;
      const promised = await promisedBytes(handle, body, size, longDataBytes);
      return {
        bigEndian,
        format,
        dataStart: body,
        dataBytes: Math.min(there, promised ?? there),
        promisedBytes: promised,
      };
    }
    at = await nextChunk(handle, body + size);
  }
  if (!format || format.length < 16) {
    throw new PersonError(
      `${name} is a damaged WAV: its format ('fmt ') is missing. Export or copy it again.`,
    );
  }
  throw new PersonError(`${name} is a WAV that ends before its sound begins: export or copy it again.`);
}

async function promisedBytes(
  handle: FileHandle,
  body: number,
  size: number,
  longDataBytes: number | null,
): Promise<number | null> {
  if (size === 0xffffffff && longDataBytes) return longDataBytes;
  if (size >= STAND_IN_BYTES && longDataBytes === null) {
    const { size: fileBytes } = await handle.stat();
    return body + size <= fileBytes ? size : null;
  }
  if (size > 0) return size;
  const next = await readAt(handle, body, 4);
  return LATER_CHUNKS.includes(nameOf(next)) ? 0 : null;
}

/** Chunks start on even bytes; some writers forget the filling byte after an odd one. */
async function nextChunk(handle: FileHandle, end: number): Promise<number> {
  if (end % 2 === 0) return end;
  const padded = nameOf(await readAt(handle, end + 1, 4));
  const unpadded = nameOf(await readAt(handle, end, 4));
  return !CHUNK_NAME.test(padded) && CHUNK_NAME.test(unpadded) ? end : end + 1;
}

/** Up to `length` bytes; fewer at the end of the file. */
async function readAt(handle: FileHandle, position: number, length: number): Promise<DataView> {
  const bytes = new Uint8Array(length);
  const { bytesRead } = await handle.read(bytes, 0, length, position);
  return new DataView(bytes.buffer, 0, bytesRead);
}

function nameOf(view: DataView): string {
  return String.fromCharCode(...new Uint8Array(view.buffer, 0, Math.min(4, view.byteLength)));
}
