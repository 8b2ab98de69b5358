import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Pass } from '../../src/basics/pass.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { alignNotes } from '../../src/measure/align.ts';
import { readCritiques, shotOf, spokenForm } from '../../src/measure/critique.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { seeded } from '../../src/training/seeded.ts';
import { NOT_HEARD, passesOfCounter, passesOfLog, passesOfSound } from './placing/player.ts';
import { stage, WAYS, type Way } from './placing/staging.ts';

/**
 * How well notes are placed from playback alone. Labelled critiques are read as if an invented mentor worked a player: before each
 * note that says no frame they go, in one of the ways of `placing/staging.ts` drawn by lot, to a frame drawn by lot, and the
 * words of stepping and pointing are put into the talk. The truth is what the generator played. What the program is told comes from
 * the same playing by three ways: `sound` (playings alone, off by up to a frame, one in sixteen not found, as bench:frames has it; and again with all found), `log`
 * (a row where the frame changes, through the reader of logs) and `counter` (30 pictures a second, read without fault).
 *
 * The error of a note is how far the farther of its two ends is from that end of the truth, so that a wide guess does not pay.
 * What no source can tell counts against no figure but is printed: dragging in silence is not heard. Lags between a moment and
 * the word about it (0.2 to 0.5 s for "there", 0.5 to 1.5 s for a sentence) are from memory, not from recordings; the words of
 * stepping are ours, and so the figure for them says less than the others.
 *
 * `-- FOLDER [DRAWS]` reads other critiques, each staged anew so many times (3); those for measuring only are read where nothing is given. `--worst` lists the worst.
 */
const worst = process.argv.includes('--worst');
const [folder = join(fileURLToPath(new URL('../critiques', import.meta.url)), 'held'), draws = '3'] =
  process.argv.slice(2).filter((argument) => !argument.startsWith('--'));
const language = loadLanguage();
const SOURCES = ['sound', 'sound, all found', 'log', 'counter'] as const;
type Source = (typeof SOURCES)[number];
const isHeard = (source: Source): boolean => source.startsWith('sound');
const UNHEARD: readonly Way[] = ['dragged to it in silence', 'a span that was dragged through'];

interface Result {
  readonly source: Source;
  readonly way: Way;
  /** Frames; null where the note has no place. */
  readonly error: number | null;
  /** Whether the place is from playback. */
  readonly played: boolean;
  readonly about: string;
}
const results: Result[] = [];
let contradicted = 0;
let held = 0;

const played = readCritiques(folder).flatMap((critique) =>
  Array.from({ length: Number(draws) }, (_, draw) => ({
    critique,
    random: seeded(1000 * draw + critique.segments.length),
  })),
);
for (const { critique, random } of played) {
  const staged = stage(critique, random);
  const { transcript, segments } = spokenForm(staged.critique);
  const moves = staged.movesFor(segments, (word) => transcript.words[word]?.start ?? 0);
  const shot = shotOf(critique);
  const { duration } = transcript.recording;
  const statements = findStatements(transcript, shot, language);
  const passes: Record<Result['source'], Pass[]> = {
    sound: passesOfSound(moves, random, NOT_HEARD),
    'sound, all found': passesOfSound(moves, random, 0),
    log: passesOfLog(moves, duration, shot),
    counter: passesOfCounter(moves, duration, shot),
  };
  for (const source of SOURCES) {
    const { notes } = findNotes(transcript, statements, shot, language, passes[source]);
    held += notes.filter(({ frames }) => frames?.source === 'spoken').length;
    contradicted += notes.filter(({ check }) =>
      check.some((entry) => entry.includes('was said, but the shot stood')),
    ).length;
    const { noteOf } = alignNotes({ critique: staged.critique, times: segments, statements, notes });
    for (const [gold, note] of noteOf) {
      const truth = staged.truth.get(gold.id);
      if (!truth || gold.label.withdrawn) continue;
      const { frames } = note;
      const error =
        frames && Math.max(Math.abs(frames.first - truth.first), Math.abs(frames.last - truth.last));
      const about = `${critique.name} ${gold.id}: ${truth.first}-${truth.last}, given ${frames?.first}-${frames?.last} ${frames?.source}: ${gold.words.slice(0, 110)}`;
      results.push({ source, way: truth.way, error, played: frames?.source === 'playback', about });
    }
  }
}

const table = (name: string, of: readonly Result[]): void => {
  const placed = of.filter(({ played }) => played);
  const errors = placed.map(({ error }) => error ?? 0).sort((a, b) => a - b);
  const at = (share: number): number => errors[Math.floor(errors.length * share)] ?? Number.NaN;
  const without = of.filter(({ error }) => error === null).length;
  console.log(
    `${name.padEnd(32)} ${String(placed.length).padStart(5)} placed, ${without} not, ${of.length - placed.length - without} otherwise; ` +
      `error in frames: median ${at(0.5)}, 90th percentile ${at(0.9)}`,
  );
};
for (const source of SOURCES) {
  const own = results.filter((one) => one.source === source);
  for (const way of WAYS)
    table(
      `${source}: ${way}`,
      own.filter((one) => one.way === way),
    );
}
console.log('\nto reach: median 2, 90th percentile 8');
for (const source of SOURCES)
  table(
    isHeard(source) ? `${source}, but for dragging` : source,
    results.filter((one) => one.source === source && !(isHeard(source) && UNHEARD.includes(one.way))),
  );
console.log(`frames said aloud: ${held}; flagged though the shot stood on them: ${contradicted}`);
if (worst) {
  const off = results.filter(({ error, played }) => played && (error ?? 0) > 4);
  for (const { source, way, error, about } of off
    .sort((a, b) => (b.error ?? 0) - (a.error ?? 0))
    .slice(0, 60))
    console.log(`${error} ${source} ${way} | ${about}`);
}
