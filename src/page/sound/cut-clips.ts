import type { Span } from '../../basics/span.ts';
import type { Sheet } from '../../sheet/sheet.ts';

/** Heard before and after each stretch: a word that is cut at its edge is not understood. */
const BEFORE_SECONDS = 0.5;
const AFTER_SECONDS = 0.4;
/** Stretches closer than this make one clip. */
const JOINED_SECONDS = 1;

/** The stretches of a recording that its sheet quotes, of notes and of what became of older ones, in order, none meeting another. */
export function cutClips({ notes, recording, previous }: Sheet): Span[] {
  const quotes = [
    ...notes.flatMap(({ spans }) => spans),
    ...(previous?.notes ?? []).flatMap(({ said }) => said),
  ];
  const spans = quotes
    .map(({ start, end }) => ({
      start: Math.max(0, start - BEFORE_SECONDS),
      end: Math.min(recording.duration, end + AFTER_SECONDS),
    }))
    .filter(({ start, end }) => end > start)
    .sort((a, b) => a.start - b.start);
  const clips: { start: number; end: number }[] = [];
  for (const span of spans) {
    const last = clips.at(-1);
    if (last && span.start <= last.end + JOINED_SECONDS) last.end = Math.max(last.end, span.end);
    else clips.push({ ...span });
  }
  return clips;
}
