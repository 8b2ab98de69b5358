import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Pass } from '../../src/basics/pass.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { alignNotes } from '../../src/measure/align.ts';
import { type Critique, readCritiques, shotOf, spokenForm } from '../../src/measure/critique.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { seeded } from '../../src/training/seeded.ts';

/**
 * How well notes are placed from playback alone: labelled critiques are read as if the mentor had played the shot before each
 * note that says no frame and stopped on a frame drawn by lot. Prints the error of the notes found, in frames.
 * `-- FOLDER` reads other critiques; those for measuring only are read where nothing is given.
 */
const folder = process.argv[2] ?? join(fileURLToPath(new URL('../critiques', import.meta.url)), 'held');
const language = loadLanguage();
const random = seeded(11);

/** Frames that a heard stop is off, either way, as bench:frames measures it. */
const STOP_ERROR_FRAMES = 1;
const PLAYED_SECONDS = [0.8, 2.5] as const;

const errors: number[] = [];
let unplaced = 0;
let elsewhere = 0;
for (const critique of readCritiques(folder)) {
  const { passes, truth, timed } = staged(critique);
  const { transcript, segments } = spokenForm(timed);
  const shot = shotOf(critique);
  const statements = findStatements(transcript, shot, language);
  const { notes } = findNotes(transcript, statements, shot, language, passes(segments));
  const alignment = alignNotes({ critique: timed, times: segments, statements, notes });
  for (const [gold, note] of alignment.noteOf) {
    const frame = truth.get(gold.id);
    if (frame === undefined || gold.label.withdrawn) continue;
    if (!note.frames) unplaced += 1;
    else if (note.frames.source !== 'playback') elsewhere += 1;
    else errors.push(Math.max(0, note.frames.first - frame, frame - note.frames.last));
  }
}
errors.sort((a, b) => a - b);
const at = (share: number): number => errors[Math.floor(errors.length * share)] ?? Number.NaN;
console.log(
  `notes placed from playback: ${errors.length}; without a place: ${unplaced}; placed otherwise: ${elsewhere}`,
);
console.log(`error in frames: median ${at(0.5)}, 90th percentile ${at(0.9)} (to reach: 2 and 8)`);

/** A critique with room for playing before each note that says no frame, what plays there, and the frame each note is about. */
function staged(critique: Critique) {
  const { first, last } = critique.shot;
  const truth = new Map<string, number>();
  const stops = new Map<number, { frame: number; seconds: number }>();
  const timed = structuredClone(critique);
  const seen = new Set<string>();
  critique.segments.forEach((segment, i) => {
    const { note } = segment;
    if (!note || seen.has(note) || critique.notes[note]?.frames) return;
    seen.add(note);
    const frame = first + Math.floor(random() * (last - first + 1));
    const seconds = PLAYED_SECONDS[0] + random() * (PLAYED_SECONDS[1] - PLAYED_SECONDS[0]);
    truth.set(note, frame);
    stops.set(i, { frame, seconds });
    const before = timed.segments[i - 1];
    if (before) before.pause += seconds + 0.6;
  });
  const passes = (segments: readonly { start: number }[]): Pass[] =>
    [...stops].flatMap(([i, { frame, seconds }]) => {
      const end = (segments[i]?.start ?? 0) - 0.3;
      const start = Math.max(0, end - seconds);
      if (start >= end) return [];
      const last = frame + 0.5 + (random() * 2 - 1) * STOP_ERROR_FRAMES;
      const from = Math.max(first, last - (end - start) * critique.fps);
      return [
        {
          start,
          end,
          first: from,
          last,
          source: 'sound' as const,
          confidence: 0.95,
          lastError: STOP_ERROR_FRAMES,
        },
      ];
    });
  return { passes, truth, timed };
}
