import { srtStamp } from '../../basics/time.ts';
import type { Transcript } from '../../transcript/transcript.ts';
import { cutIntoCues } from './cues.ts';
import type { Writer } from './writer.ts';

/** The transcript as SubRip captions. */
export function writeSrt(transcript: Transcript): string {
  return cutIntoCues(transcript.words)
    .map((cue, i) => `${i + 1}\n${srtStamp(cue.start)} --> ${srtStamp(cue.end)}\n${withoutTags(cue.text)}\n`)
    .join('\n');
}

/** SubRip has no escapes, and players take angle brackets for tags: they are replaced by marks that look alike. */
function withoutTags(text: string): string {
  return text.replaceAll('<', '‹').replaceAll('>', '›');
}

export const srt: Writer<Transcript> = {
  ending: '.srt',
  says: 'captions (SubRip)',
  leavesOut: "the words' own times and the confidences",
  write: writeSrt,
};
