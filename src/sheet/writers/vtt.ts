import { vttStamp } from '../../basics/time.ts';
import type { Transcript } from '../../transcript/transcript.ts';
import { cutIntoCues } from './cues.ts';

/** The transcript as WebVTT captions. The three characters that mean something in a cue are escaped. */
export function writeVtt(transcript: Transcript): string {
  const cues = cutIntoCues(transcript.words).map(
    (cue) => `${vttStamp(cue.start)} --> ${vttStamp(cue.end)}\n${escapeCue(cue.text)}\n`,
  );
  return ['WEBVTT\n', ...cues].join('\n');
}

function escapeCue(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
