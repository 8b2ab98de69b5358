import { createHash } from 'node:crypto';

const SEAL = /\n<!-- critsheet page of ([0-9a-f]*), sha256 ([0-9a-f]{64}) -->\n$/;

/** Puts the checksum of a page at its end, by which it is known that nobody has edited it. */
export function seal(html: string, recordingSha256: string): string {
  const of = recordingSha256.replace(/[^0-9a-f]/g, '');
  return `${html.trimEnd()}\n<!-- critsheet page of ${of}, sha256 ${hexOf(html.trimEnd())} -->\n`;
}

/** Whether a page is, to the letter, one that critsheet wrote for this recording. */
export function isSealed(html: string, recordingSha256: string): boolean {
  const found = SEAL.exec(html);
  return found?.[1] === recordingSha256 && hexOf(html.slice(0, found.index)) === found[2];
}

function hexOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
