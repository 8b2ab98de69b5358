/**
 * Makes the sample recordings from their scripts: `npx tsx samples/make-samples.ts`.
 * Needs Debian's flite, sox and ffmpeg on the PATH. The same scripts give the same sound each time.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { shotSchema } from '../src/basics/shot.ts';
import * as sound from './sound.ts';

/** What one recording is made with, beside its script. */
interface Sample {
  folder: string;
  recording: string;
  /** flite's voice for the mentor, and how slowly it talks (1 is flite's own pace). */
  voice: string;
  stretch: number;
  /** flite's voice for the shot's dialogue, and the shot frame on which each line begins. */
  shotVoice: string;
  lineFrames: number[];
  seed: number;
}

const SAMPLES: Sample[] = [
  {
    folder: 'ferry-rope',
    recording: 'recording.wav',
    voice: 'slt',
    stretch: 0.93,
    shotVoice: 'awb',
    lineFrames: [],
    seed: 1001,
  },
  {
    folder: 'puppet-audition',
    recording: 'recording.mp3',
    voice: 'rms',
    stretch: 0.95,
    shotVoice: 'awb',
    lineFrames: [38, 118],
    seed: 168,
  },
];

/** Levels in dBFS: the mentor's speech, the shot's own sound and as heard from a loudspeaker, the room, the stage. */
const LEVEL = { mentor: -20, shot: -18, heard: -29, room: -55, stage: -62 };
/** Seconds of room before the first word. */
const LEAD_IN = 0.6;

const scriptSchema = z.looseObject({
  shot: z.looseObject({ first: z.int(), last: z.int(), dialogue: z.array(z.string()) }),
  segments: z.array(z.looseObject({ say: z.string(), pause: z.number().positive(), role: z.string() })),
});
type Script = z.infer<typeof scriptSchema>;

/** Where a script segment is in the recording, in seconds; for the shot's dialogue also which shot frames are heard. */
interface SegmentTime {
  start: number;
  end: number;
  frames?: [number, number];
}

/** A line of the shot's dialogue as a range of the shot's own sound, in samples. */
interface Line {
  start: number;
  end: number;
}

/** The shot's own sound: its lines on their frames over a quiet stage, and where each line lies in it. */
function shotSound(
  sample: Sample,
  script: Script,
  fps: number,
  work: string,
): { all: Float64Array; lines: Line[] } {
  const { first, last, dialogue } = script.shot;
  const all = new Float64Array(Math.round(((last - first + 1) / fps) * sound.RATE));
  const lines = dialogue.map((text, index) => {
    const line = sound.atLevel(sound.spoken(text, sample.shotVoice, 1, work), LEVEL.shot);
    const frame = sample.lineFrames[index];
    if (frame === undefined) throw new Error(`${sample.folder}: no frame for the line "${text}"`);
    const start = Math.round(((frame - first) / fps) * sound.RATE);
    all.set(line, start);
    return { start, end: start + line.length };
  });
  sound.addRoomNoise(all, LEVEL.stage, sound.seededRandom(sample.seed + 1));
  return { all, lines };
}

/** Speaks a whole script; lines of dialogue that follow each other keep their distance in the shot. */
function perform(sample: Sample, script: Script, fps: number, work: string) {
  const random = sound.seededRandom(sample.seed);
  const shot = shotSound(sample, script, fps, work);
  const heard =
    shot.lines.length > 0 ? sound.atLevel(sound.throughLoudspeaker(shot.all, work), LEVEL.heard) : shot.all;
  const lineOf = (index: number): Line | undefined => {
    const segment = script.segments[index];
    return segment?.role === 'shot' ? shot.lines[script.shot.dialogue.indexOf(segment.say)] : undefined;
  };
  const pieces: Float64Array[] = [new Float64Array(LEAD_IN * sound.RATE)];
  let length = LEAD_IN * sound.RATE;
  const times = script.segments.map((segment, index): SegmentTime => {
    const [line, next] = [lineOf(index), lineOf(index + 1)];
    if (segment.role === 'shot' && !line) {
      throw new Error(`${sample.folder}: "${segment.say}" is not in the dialogue`);
    }
    const pace = sample.stretch * (0.97 + 0.06 * random());
    const level = LEVEL.mentor + 3 * (random() - 0.5);
    const piece = line
      ? heard.slice(line.start, line.end)
      : sound.atLevel(sound.spoken(segment.say, sample.voice, pace, work), level);
    const playsOn = line && next && next.start > line.end;
    const after = playsOn ? heard.slice(line.end, next.start) : undefined;
    const silence = after ?? new Float64Array(Math.round(segment.pause * sound.RATE));
    const time: SegmentTime = { start: length / sound.RATE, end: (length + piece.length) / sound.RATE };
    if (line) {
      const frame = (at: number): number => script.shot.first + (at / sound.RATE) * fps;
      time.frames = [frame(line.start), frame(line.end)];
    }
    pieces.push(piece, silence);
    length += piece.length + silence.length;
    return time;
  });
  const recording = new Float64Array(length);
  let at = 0;
  for (const piece of pieces) {
    recording.set(piece, at);
    at += piece.length;
  }
  sound.addRoomNoise(recording, LEVEL.room, random);
  return { recording, times, shot };
}

/** Makes one sample folder's sound files and segments.json. */
function make(sample: Sample, work: string): void {
  const folder = join(dirname(fileURLToPath(import.meta.url)), sample.folder);
  const read = (name: string): unknown => JSON.parse(readFileSync(join(folder, name), 'utf8'));
  const script = scriptSchema.parse(read('script.json'));
  const { fps } = shotSchema.parse(read('shot.json'));
  const { recording, times, shot } = perform(sample, script, fps, work);
  const path = join(folder, sample.recording);
  if (path.endsWith('.wav')) sound.writeWav(path, recording);
  else {
    const plain = join(work, 'recording.wav');
    sound.writeWav(plain, recording);
    const exact = '-map_metadata -1 -fflags +bitexact -flags:a +bitexact'.split(' ');
    const mp3 = '-c:a libmp3lame -b:a 64k'.split(' ');
    execFileSync('ffmpeg', ['-v', 'error', '-y', '-i', plain, ...mp3, ...exact, path]);
  }
  if (shot.lines.length > 0) sound.writeWav(join(folder, 'shot-sound.wav'), shot.all);
  const rows = times.map((time) => JSON.stringify(time, (_key, value) => rounded(value)));
  writeFileSync(join(folder, 'segments.json'), `[\n  ${rows.join(',\n  ')}\n]\n`);
  const peak = recording.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const seconds = recording.length / sound.RATE;
  console.log(`${sample.folder}: ${seconds.toFixed(2)} s, ${times.length} segments, peak ${peak.toFixed(2)}`);
}

/** Numbers to a thousandth; everything else as it is. */
function rounded(value: unknown): unknown {
  return typeof value === 'number' ? Math.round(value * 1000) / 1000 : value;
}

const work = mkdtempSync(join(tmpdir(), 'critsheet-samples-'));
try {
  for (const sample of SAMPLES) make(sample, work);
} finally {
  rmSync(work, { recursive: true });
}
