import { vttStamp } from '../../basics/time.ts';
import type { Transcript } from '../../transcript/transcript.ts';
import { cutIntoCues } from './cues.ts';
import type { Writer } from './writer.ts';

/** The transcript as WebVTT captions. The three characters that mean something in a cue are escaped. */
export function writeVtt(transcript: Transcript): string {
  const cues = cutIntoCues(transcript.words).map(
    (cue) => `${vttStamp(cue.start)} --> ${vttStamp(cue.end)}\n${escapeCue(cue.text)}\n`,
  );
  return ['WEBVTT\n', ...cues].join('\n');
}

/** A text as the text of a cue. */
export function escapeCue(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

export const vtt: Writer<Transcript> = {
  ending: '.vtt',
  says: 'captions (WebVTT)',
  leavesOut: "the words' own times and the confidences",
  write: writeVtt,
};
