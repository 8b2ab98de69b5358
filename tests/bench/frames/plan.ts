import type { Chance } from './chance.ts';

export const MANNERS = ['normal', 'half, lower', 'half, same pitch'] as const;
export type Manner = (typeof MANNERS)[number];

/** One uninterrupted play: from second `at` of the recording, the shot's seconds `from` to `to`. */
export interface Play {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly manner: Manner;
}

/** Shorter plays are not made. */
const LEAST_SECONDS = 0.75;

/** Recording seconds a shot second. */
export function slowness(manner: Manner): number {
  return manner === 'normal' ? 1 : 2;
}

/** When the play stops. */
export function endOf({ at, from, to, manner }: Play): number {
  return at + slowness(manner) * (to - from);
}

/** Plays one after the other with pauses: whole, in part, on from where it stopped, looped; a quarter at half speed. */
export function planPlays(shotSeconds: number, seconds: number, chance: Chance): Play[] {
  const plays: Play[] = [];
  let at = chance.between(0.5, 5);
  let stood = 0;
  while (at < seconds - 4) {
    const manner = chance.yes(0.75) ? 'normal' : chance.one(MANNERS.slice(1));
    const { from, to } = planPart(shotSeconds, stood, chance);
    const loops = chance.yes(0.15) ? chance.whole(1, 3) : 0;
    for (let k = 0; k <= loops && at < seconds - 2; k++) {
      const start = k === 0 ? from : 0;
      const stop = k === loops ? to : shotSeconds;
      const longest = (seconds - 0.5 - at) / slowness(manner);
      const play = { at, from: start, to: Math.min(stop, start + longest), manner };
      if (play.to - play.from < LEAST_SECONDS) continue;
      plays.push(play);
      at = endOf(play);
    }
    stood = to;
    at += chance.yes(0.3) ? chance.between(0.3, 1) : chance.between(1, 12);
  }
  return plays;
}

function planPart(shotSeconds: number, stood: number, chance: Chance): { from: number; to: number } {
  const goesOn = stood < shotSeconds - 1 && chance.yes(0.5);
  const anywhere = goesOn ? stood : chance.between(0, shotSeconds - LEAST_SECONDS);
  const from = chance.yes(0.35) ? 0 : anywhere;
  const to = chance.yes(0.3) ? shotSeconds : Math.min(shotSeconds, from + chance.between(LEAST_SECONDS, 6));
  return { from, to };
}
