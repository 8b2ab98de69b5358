import type { Chance } from './chance.ts';
import { endOf, type Manner, type Play } from './plan.ts';
import { makeNoise, type Way } from './room.ts';
import { activeLevel, addAt, atPace, gainOf, level, RATE } from './sound.ts';
import { stretchedByPhases, stretchedByPieces } from './stretch.ts';

/** What the shot is heard through and against; decibels against the shot as it is heard. */
export interface Circumstances {
  readonly way: Way;
  readonly clockPpm: number;
  readonly noiseDb: number;
  readonly voiceDb: number;
}

/** A pass as it was made: recording seconds, shot frames. */
export interface TruePass {
  readonly start: number;
  readonly end: number;
  readonly first: number;
  readonly last: number;
  readonly manner: Manner;
  /** Whether the shot is loud enough to be heard at this end, inside the pass and where it would have gone on. */
  readonly startHeard: boolean;
  readonly endHeard: boolean;
  /** Decibels by which the shot is louder than talk and noise together, over the whole pass. */
  readonly aboveDb: number;
}

/** An end is heard where the shot, over so many seconds on both sides, is no more than so much below talk and noise. */
const HEARD_SECONDS = 0.06;
const HEARD_DB = -12;

/** The shot played so over a voice of level 0.1 while it speaks, and the truth about it. */
export function mix(
  shot: Float32Array,
  plays: readonly Play[],
  voice: Float32Array,
  { way, clockPpm, noiseDb, voiceDb }: Circumstances,
  { fps, first }: { fps: number; first: number },
  chance: Chance,
): { samples: Float32Array; passes: TruePass[] } {
  const sounds = soundsOf(shot, plays, chance);
  const heardLevel = activeLevel(way.pass(shot));
  const others = new Float32Array(voice.length);
  addAt(others, voice, 0, (heardLevel * gainOf(voiceDb)) / 0.1);
  addAt(others, makeNoise(voice.length, chance), 0, heardLevel * gainOf(-noiseDb));
  const samples = Float32Array.from(others);
  for (const { at, from, to, manner } of plays) {
    const sound = sounds[manner];
    const scale = (sound.length / shot.length) * RATE;
    const played = sound.subarray(Math.round(from * scale), Math.round(to * scale));
    addAt(samples, way.pass(atPace(played, 1 + clockPpm / 1e6)), Math.round(at * RATE));
  }
  const gain = heardLevel / activeLevel(shot);
  const isHeard = (shotSecond: number, second: number) =>
    [-HEARD_SECONDS, 0].every((side) => {
      const from = Math.round((shotSecond + side) * RATE);
      if (from < 0 || from + HEARD_SECONDS * RATE > shot.length) return true;
      return gain * levelAt(shot, shotSecond + side) > gainOf(HEARD_DB) * levelAt(others, second + side);
    });
  const passes = plays.map((play) => ({
    start: play.at,
    end: endOf(play),
    first: first + play.from * fps,
    last: first + play.to * fps,
    manner: play.manner,
    startHeard: isHeard(play.from, play.at),
    endHeard: isHeard(play.to, endOf(play)),
    aboveDb:
      20 *
      Math.log10(
        (gain * level(cut(shot, play.from, play.to))) / level(cut(others, play.at, endOf(play))) + 1e-9,
      ),
  }));
  const full = chance.between(0.05, 0.9) / samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  return { samples: samples.map((x) => x * full), passes };
}

function soundsOf(shot: Float32Array, plays: readonly Play[], chance: Chance): Record<Manner, Float32Array> {
  const has = (manner: Manner) => plays.some((play) => play.manner === manner);
  const pieceSeconds = chance.between(0.03, 0.08);
  const stretch = chance.yes(0.7)
    ? (x: Float32Array) => stretchedByPieces(x, pieceSeconds)
    : stretchedByPhases;
  const none = new Float32Array(0);
  return {
    normal: shot,
    'half, lower': has('half, lower') ? atPace(shot, 0.5) : none,
    'half, same pitch': has('half, same pitch') ? stretch(shot) : none,
  };
}

function cut(sound: Float32Array, from: number, to: number): Float32Array {
  return sound.subarray(Math.round(from * RATE), Math.round(to * RATE));
}

function levelAt(sound: Float32Array, second: number): number {
  const from = Math.max(0, Math.round(second * RATE));
  return level(sound.subarray(from, from + HEARD_SECONDS * RATE));
}
