import { basename, extname } from 'node:path';
import { SETTINGS_FILE } from '../files/settings-file.ts';
import { holdsWordsAlone } from '../files/words-file.ts';
import { CORRECTIONS_ENDING } from '../page/corrections-file.ts';
import { SHEET_WRITERS } from '../sheet/writers/writers.ts';

/** What sound and video are called. What a file holds is told by its content; by these names recordings are looked for. */
const ENDINGS =
  'wav wave bwf aif aiff caf mp3 m4a aac flac ogg oga opus wma webm weba mp4 m4v mov mkv mka avi mts 3gp amr'
    .split(' ')
    .map((ending) => `.${ending}`);

/** Whether a file that nobody named is taken for a recording: sound or video by its name, and neither hidden nor temporary. */
export function looksLikeRecording(path: string): boolean {
  return !/^[.~]/.test(basename(path)) && ENDINGS.includes(extname(path).toLowerCase());
}

/** What a person or critsheet puts beside recordings, by whole names and by what names end with. */
const NAMES = ['shot.json', SETTINGS_FILE];
const ENDINGS_BESIDE = [
  ...Object.values(SHEET_WRITERS).map(({ ending }) => ending),
  ...['.txt', '.shot.json', '.ticks.json', CORRECTIONS_ENDING],
  // No recording ends with .md or .csv, whoever wrote it; words are read from .json and .vtt, of which only ours are meant.
].map((ending) => (holdsWordsAlone(ending) ? ending : ending.replace(/^.*(?=\.)/, '')));

/** Whether a file that a pattern of the shell brought along is one that stands beside recordings and is none. */
export function liesBesideRecordings(path: string): boolean {
  // "take3.sheet.2.json" is the second of that name.
  const name = basename(path)
    .toLowerCase()
    .replace(/\.\d+(?=\.[^.]*$)/, '');
  return /^[.~]/.test(name) || NAMES.includes(name) || ENDINGS_BESIDE.some((ending) => name.endsWith(ending));
}
