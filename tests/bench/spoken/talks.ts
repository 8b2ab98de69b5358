import type { Critique } from '../../../src/measure/critique.ts';
import { Chance } from '../frames/chance.ts';
import { activeLevel, addAt, gainOf, RATE } from '../frames/sound.ts';
import type { TimedWord } from '../sound-files.ts';
import { CONDITIONS, type Condition } from './conditions.ts';
import { makeLaugh } from './laughter.ts';
import { asSaid, wordsSaid } from './said.ts';
import type { Voice } from './voices.ts';

/** A talk that was made: its sound, its words, and when each was said where the voices tell. */
export interface MadeTalk {
  readonly samples: Float32Array;
  readonly words: readonly string[];
  readonly times: readonly TimedWord[] | null;
}

/** What a talk is made of. */
export interface TalkPlan {
  readonly critique: Critique;
  /** The first of its segments. */
  readonly from: number;
  readonly voice: Voice;
  /** Speaks the shot's lines, and the other half where two people talk. */
  readonly other: Voice;
  readonly condition: Condition;
  readonly seconds: number;
  readonly seed: number;
}

const LEVEL = 0.08;
const SHOT_LINE_DB = -6;

interface Piece {
  readonly samples: Float32Array;
  readonly words: readonly string[];
  readonly times: readonly TimedWord[] | null;
  /** Silence after it; below 0 the next one speaks into its end. */
  readonly pause: number;
}

/** Speaks so many seconds of a critique and does to them what the condition says. */
export function makeTalk(plan: TalkPlan, crowd: readonly Voice[]): MadeTalk {
  const chance = new Chance(plan.seed);
  const pieces = piecesOf(plan, chance);
  const { samples, words, times } = together(pieces, chance.between(0.3, 1.5));
  const babble = () => babbleOf(plan.critique, crowd, chance);
  const spoilt = CONDITIONS[plan.condition](samples, chance, babble);
  return { samples: spoilt, words, times };
}

function piecesOf({ critique, from, voice, other, condition, seconds }: TalkPlan, chance: Chance): Piece[] {
  const pieces: Piece[] = [];
  const manner = { stretch: chance.between(0.88, 1.12) };
  const second = { stretch: chance.between(0.9, 1.1) };
  let spoken = 0;
  for (const { say, pause, role } of critique.segments.slice(from)) {
    if (spoken >= seconds) break;
    const text = asSaid(say, chance);
    const words = wordsSaid(text);
    if (words.length === 0) continue;
    const byOther = role === 'shot' || (condition === 'two people' && chance.yes(0.45));
    const { samples, times } = byOther ? other.say(text, second) : voice.say(text, manner);
    const gain =
      (LEVEL / activeLevel(samples)) * gainOf(role === 'shot' ? SHOT_LINE_DB : chance.between(-2, 2));
    const overlap = condition === 'two people' && chance.yes(0.2);
    pieces.push({
      samples: samples.map((sample) => sample * gain),
      words,
      times,
      pause: overlap ? -0.25 : pause,
    });
    spoken += samples.length / RATE;
    if (condition === 'laughter') pieces.push(...interruption(chance));
  }
  return pieces;
}

/** A laugh, or a long silence, or nothing. */
function interruption(chance: Chance): Piece[] {
  const nothing = { words: [], times: [] };
  if (chance.yes(0.3)) return [{ samples: makeLaugh(chance), ...nothing, pause: chance.between(0.1, 0.6) }];
  if (chance.yes(0.12)) return [{ samples: new Float32Array(0), ...nothing, pause: chance.between(8, 25) }];
  return [];
}

function together(pieces: readonly Piece[], leadSeconds: number): MadeTalk {
  const seconds = pieces.reduce(
    (sum, { samples, pause }) => sum + samples.length / RATE + pause,
    leadSeconds,
  );
  const out = new Float32Array(Math.ceil((seconds + leadSeconds) * RATE));
  const times: TimedWord[] = [];
  let known = true;
  let at = leadSeconds;
  for (const piece of pieces) {
    addAt(out, piece.samples, Math.round(at * RATE));
    if (!piece.times) known = false;
    for (const { word, start, end } of piece.times ?? []) {
      times.push({ word, start: rounded(start + at), end: rounded(end + at) });
    }
    at += piece.samples.length / RATE + piece.pause;
  }
  return { samples: out, words: pieces.flatMap((piece) => piece.words), times: known ? times : null };
}

function rounded(seconds: number): number {
  return Math.round(seconds * 1000) / 1000;
}

/** Four people who talk at once. */
function babbleOf({ segments }: Critique, crowd: readonly Voice[], chance: Chance): Float32Array {
  const voices = Array.from({ length: 4 }, () => {
    const text = [0, 1, 2].map(() => chance.one(segments).say).join(' ');
    return chance.one(crowd).say(asSaid(text, chance), { stretch: chance.between(0.9, 1.1) }).samples;
  });
  const out = new Float32Array(Math.min(...voices.map((samples) => samples.length)));
  for (const samples of voices) addAt(out, samples, 0, LEVEL / activeLevel(samples));
  return out;
}
