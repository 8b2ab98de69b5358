/** What a file is, by its content. `unknown` is left to the decoders, which know more formats than are told apart here. */
export type SoundKind =
  | 'wav'
  | 'mp3'
  | 'aac'
  | 'flac'
  | 'ogg'
  | 'mp4'
  | 'matroska'
  | 'text'
  | 'zeros'
  | 'unknown';

/** The marks that stand at a fixed byte; the first that fits decides. ISO BMFF boxes have their name at byte 4. */
const MARKS: readonly { at: number; marks: readonly string[]; kind: SoundKind }[] = [
  { at: 0, marks: ['fLaC'], kind: 'flac' },
  { at: 0, marks: ['OggS'], kind: 'ogg' },
  { at: 0, marks: ['\x1a\x45\xdf\xa3'], kind: 'matroska' },
  { at: 4, marks: ['ftyp', 'moov', 'mdat', 'wide', 'free', 'skip', 'pnot', 'moof', 'styp'], kind: 'mp4' },
];

const WAV_FORMS = ['RIFF', 'RIFX', 'RF64', 'BW64'];

/**
 * Says what the first bytes of a file belong to.
 * @param head the first bytes, after any tag
 * @param tagged whether an ID3 tag stood in front: without another mark it is then an mp3
 */
export function soundKindOf(head: Uint8Array, tagged = false): SoundKind {
  if (WAV_FORMS.includes(textAt(head, 0, 4)) && textAt(head, 8, 4) === 'WAVE') return 'wav';
  for (const { at, marks, kind } of MARKS) {
    if (marks.includes(textAt(head, at, 4))) return kind;
  }
  // MPEG audio and ADTS begin with 11 or 12 set bits; the layer bits are 0 in ADTS only (ISO 11172-3, 13818-7).
  const [first = 0, second = 0] = head;
  if (first === 0xff && (second & 0xf6) === 0xf0) return 'aac';
  if (first === 0xff && (second & 0xe0) === 0xe0 && second !== 0xff && second !== 0xfe) return 'mp3';
  if (tagged) return 'mp3';
  if (head.every((byte) => byte === 0)) return 'zeros';
  return isText(head) ? 'text' : 'unknown';
}

/** Length of an ID3v2 tag in front of the file (id3.org, 2.4 section 3.1: four bytes of seven bits each), 0 without one. */
export function tagBytes(head: Uint8Array): number {
  if (textAt(head, 0, 3) !== 'ID3' || head.length < 10) return 0;
  const [a = 0, b = 0, c = 0, d = 0] = head.subarray(6, 10);
  const footer = (head[5] ?? 0) & 0x10 ? 10 : 0;
  return 10 + footer + ((a & 127) << 21) + ((b & 127) << 14) + ((c & 127) << 7) + (d & 127);
}

function textAt(bytes: Uint8Array, at: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + length));
}

/** Text has no control characters but tab, line ends, form feed and escape; UTF-16 says so by its first two bytes. */
function isText(head: Uint8Array): boolean {
  const [first = 0, second = 0] = head;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return true;
  return head.every((byte) => byte >= 32 || (byte >= 9 && byte <= 13) || byte === 27);
}
