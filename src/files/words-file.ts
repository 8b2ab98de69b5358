import { extname } from 'node:path';

/** What captions and saved transcripts are called. */
const ENDINGS = ['.vtt', '.srt', '.json'];

/** Whether a file that is read as a recording holds words that were written down, and no sound. */
export function holdsWordsAlone(path: string): boolean {
  return ENDINGS.includes(extname(path).toLowerCase());
}
