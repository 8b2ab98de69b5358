import { Chance } from './chance.ts';
import { mix, type TruePass } from './mix.ts';
import { planPlays } from './plan.ts';
import { makeWay } from './room.ts';
import { makeShot, SHOT_KINDS, type ShotSound } from './shots.ts';
import { RATE } from './sound.ts';
import { MENTORS, makeVoice } from './talk.ts';

export interface MadeRecording {
  readonly seed: number;
  readonly samples: Float32Array;
  readonly shot: ShotSound;
  readonly fps: number;
  readonly first: number;
  readonly passes: readonly TruePass[];
  /** What it was made with, for the list of misses. */
  readonly says: string;
}

/** Makes a recording of which everything is known; the same seed gives the same one. */
export function makeRecording(seed: number, seconds = 90): MadeRecording {
  const chance = new Chance(seed);
  const shot = makeShot(chance.one(SHOT_KINDS), chance);
  const fps = chance.one([24, 24, 24, 25, 30, 23.976]);
  const first = chance.one([0, 1, 101, 1001]);
  const shotSeconds = shot.samples.length / RATE;
  const plays = planPlays(shotSeconds, seconds, chance);
  const mentor = chance.one(MENTORS).filter((name) => !shot.clips.includes(name));
  const voice = makeVoice(Math.round(seconds * RATE), mentor, chance, 2);
  const circumstances = {
    way: makeWay(chance),
    clockPpm: chance.between(-60, 60),
    noiseDb: chance.one([5, 5, 10, 20, 35]),
    voiceDb: chance.between(-10, 9),
  };
  const { way, noiseDb, voiceDb } = circumstances;
  const says = `${shot.kind} ${shotSeconds.toFixed(1)} s, ${way.name}, noise ${noiseDb} dB, voice ${voiceDb.toFixed(0)} dB`;
  return {
    seed,
    shot,
    fps,
    first,
    says,
    ...mix(shot.samples, plays, voice, circumstances, { fps, first }, chance),
  };
}
