import { basename, extname } from 'node:path';

/** What sound and video are called. What a file holds is told by its content; by these names recordings are looked for. */
const ENDINGS =
  'wav wave bwf aif aiff caf mp3 m4a aac flac ogg oga opus wma webm weba mp4 m4v mov mkv mka avi mts 3gp amr'
    .split(' ')
    .map((ending) => `.${ending}`);

/** Whether a file that nobody named is taken for a recording: sound or video by its name, and neither hidden nor temporary. */
export function looksLikeRecording(path: string): boolean {
  return !/^[.~]/.test(basename(path)) && ENDINGS.includes(extname(path).toLowerCase());
}

const OURS =
  /(^|\.)(sheet(\.\d+)?\.(json|md|html|csv|jsonl)|corrections(\.\d+)?\.json|ticks\.json|shot\.json|chapters(\.\d+)?\.vtt)$|\.(otio|md|html|csv|jsonl|txt)$|^critsheet\.json$/i;

/** Whether a file that a pattern of the shell brought along is one that stands beside recordings and is none. */
export function liesBesideRecordings(path: string): boolean {
  return OURS.test(basename(path)) || /^[.~]/.test(basename(path));
}
