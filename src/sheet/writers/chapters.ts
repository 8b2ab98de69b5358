import { vttStamp } from '../../basics/time.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../sheet.ts';
import { escapeCue } from './vtt.ts';
import type { Writer } from './writer.ts';

/** A cue that lasts no time is none to a player. */
const SHORTEST_SECONDS = 0.001;

/**
 * The notes as chapters of the recording (WebVTT, kind "chapters"), in the order of time, one a note. A chapter begins with the note's first words and ends
 * with the last of them that come before the next chapter, so that no two overlap but those that begin together.
 */
export function writeChapters({ notes }: Sheet): string {
  const spoken = notes
    .flatMap((note) => (note.spans.length > 0 ? [{ note, start: startOf(note) }] : []))
    .sort((a, b) => a.start - b.start || a.note.rank - b.note.rank);
  const cues = spoken.map(({ note, start }) => {
    const next = spoken.find((other) => other.start > start)?.start ?? Number.POSITIVE_INFINITY;
    const ends = note.spans.filter((span) => span.start < next).map((span) => span.end);
    const end = Math.max(start + SHORTEST_SECONDS, Math.min(next, ...[Math.max(...ends)]));
    return `${note.id.replaceAll('-->', '')}\n${vttStamp(start)} --> ${vttStamp(end)}\n${title(note)}\n`;
  });
  return ['WEBVTT\n', ...cues].join('\n');
}

function startOf(note: Note): number {
  return Math.min(...note.spans.map((span) => span.start));
}

/** A chapter's title is one line. */
function title(note: Note): string {
  const text = `${note.rank}. ${note.withdrawn ? 'Taken back: ' : ''}${note.title}`;
  return escapeCue(text.replace(/\s+/g, ' ').trim());
}

export const chapters: Writer<Sheet> = {
  ending: '.chapters.vtt',
  says: 'the notes as chapters of the recording (WebVTT)',
  leavesOut: 'all but the titles and where in the recording each note begins',
  write: writeChapters,
};
