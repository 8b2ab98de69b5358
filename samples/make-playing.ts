/**
 * Makes what tells where the shot of `puppet-audition` stood while it was talked about, from its script and its segments:
 * `npx tsx samples/make-playing.ts`. Writes `playhead.csv`, a log such as a player may write, and `screen.mp4`, a recording of
 * a screen with a frame counter and the mentor's voice. Needs node-av, which comes with the project, and Debian's ffmpeg.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { shotSchema } from '../src/basics/shot.ts';
import { makeFilm } from '../tests/recording/screen/film.ts';
import { COLOURS } from '../tests/recording/screen/picture.ts';
import { framesShown, type Move, screenPictures } from '../tests/recording/screen/recorded-shot.ts';

const FOLDER = join(dirname(fileURLToPath(import.meta.url)), 'puppet-audition');
/** Frames on which the mentor stops for notes that say none. */
const STOPS: Readonly<Record<string, number>> = { n1: 150, n4: 62, n7: 76, n10: 112, n12: 1 };
/** The mentor stops the shot so long before talking of it, in seconds. */
const LEAD_SECONDS = 0.4;
const PICTURES_A_SECOND = 12;
const SIZE = { width: 480, height: 270 };

const segmentsSchema = z.array(
  z.object({ start: z.number(), end: z.number(), frames: z.tuple([z.number(), z.number()]).optional() }),
);
const scriptSchema = z.looseObject({
  segments: z.array(z.looseObject({ note: z.string().optional() })),
  notes: z.record(z.string(), z.looseObject({ frames: z.tuple([z.number(), z.number()]).nullable() })),
});

const read = (name: string): unknown => JSON.parse(readFileSync(join(FOLDER, name), 'utf8'));
const shot = shotSchema.parse(read('shot.json'));
const segments = segmentsSchema.parse(read('segments.json'));
const script = scriptSchema.parse(read('script.json'));

/** What the mentor does with the player, from the beginning of the recording to its end. */
function movesOf(): Move[] {
  const moves: Move[] = [];
  const seen = new Set<string>();
  let now = 0;
  let frame = shot.first;
  // The film has pictures at whole steps only; a move that ended between two would push all that follow.
  const onPicture = (seconds: number): number => Math.round(seconds * PICTURES_A_SECOND) / PICTURES_A_SECOND;
  const standUntil = (seconds: number): void => {
    const until = onPicture(seconds);
    if (until > now) moves.push({ does: 'stand', seconds: until - now, frame });
    now = Math.max(now, until);
  };
  segments.forEach((segment, i) => {
    if (segment.frames) {
      standUntil(segment.start);
      const end = onPicture(segment.end);
      const from = segment.frames[0] + (now - segment.start) * shot.fps;
      moves.push({ does: 'play', seconds: end - now, from: Math.max(shot.first, from) });
      now = end;
      frame = Math.floor(segment.frames[1]);
      return;
    }
    const note = script.segments[i]?.note;
    if (!note || seen.has(note)) return;
    seen.add(note);
    const stop = script.notes[note]?.frames?.[0] ?? STOPS[note];
    if (stop === undefined) return;
    standUntil(segment.start - LEAD_SECONDS);
    frame = stop;
  });
  standUntil((segments.at(-1)?.end ?? 0) + 1);
  return moves;
}

const recorded = {
  ...SIZE,
  shot: { fps: shot.fps, first: shot.first, last: shot.last ?? shot.first },
  moves: movesOf(),
  rate: PICTURES_A_SECOND,
  variable: true,
  grain: 2,
  counter: {
    font: 'robotoMono' as const,
    pixels: 24,
    colour: COLOURS.white,
    box: { colour: COLOURS.black, opacity: 0.8 },
    x: 24,
    y: 70,
    shows: 'frame' as const,
  },
};

let before = Number.NaN;
const rows = framesShown(recorded).flatMap(({ seconds, frame }) => {
  if (frame === before) return [];
  before = frame;
  return [`${seconds.toFixed(3)},${frame}`];
});
writeFileSync(join(FOLDER, 'playhead.csv'), `${['time,frame', ...rows].join('\n')}\n`);

const work = mkdtempSync(join(tmpdir(), 'critsheet-playing-'));
try {
  const film = join(work, 'film.mp4');
  await makeFilm(film, screenPictures(recorded), { ...SIZE, crf: 30 });
  const inputs = ['-i', film, '-i', join(FOLDER, 'recording.mp3'), '-map', '0:v', '-map', '1:a'];
  const codecs = '-c:v copy -c:a aac -b:a 48k -map_metadata -1 -fflags +bitexact -flags:a +bitexact'.split(
    ' ',
  );
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...inputs, ...codecs, join(FOLDER, 'screen.mp4')]);
} finally {
  rmSync(work, { recursive: true });
}
