import { open } from 'node:fs/promises';

/**
 * Whether an MP4 or QuickTime file has its index, the 'moov' box, without which no decoder can find the sound. A camera or
 * recorder writes it last, so a recording that was broken off has none. Boxes: ISO/IEC 14496-12, section 4.2.
 */
export async function hasMovieIndex(path: string): Promise<boolean> {
  const handle = await open(path, 'r');
  try {
    const { size: fileBytes } = await handle.stat();
    const header = new DataView(new ArrayBuffer(16));
    for (let at = 0; at + 8 <= fileBytes; ) {
      await handle.read(header, 0, 16, at);
      const name = String.fromCharCode(...new Uint8Array(header.buffer, 4, 4));
      if (name === 'moov') return true;
      const short = header.getUint32(0);
      // 0: the box goes on to the end of the file; 1: a 64-bit size follows.
      const bytes = short === 1 ? Number(header.getBigUint64(8)) : short;
      if (bytes < 8) return false;
      at += bytes;
    }
    return false;
  } finally {
    await handle.close();
  }
}
