import type { Chance } from '../frames/chance.ts';
import { addAt, biquad, RATE } from '../frames/sound.ts';

/**
 * A laugh of 0.6 to 2 s: bursts of breath and voice, about five a second, getting lower and weaker, with a vowel's two
 * lowest resonances (Bachorowski, Smoski and Owren, 2001, measured 4 to 5 a second). Of level 0.1 or so.
 */
export function makeLaugh(chance: Chance): Float32Array {
  const bursts = chance.whole(3, 9);
  const every = chance.between(0.17, 0.24);
  const out = new Float32Array(Math.round((bursts + 1) * every * RATE));
  const start = chance.between(140, 420);
  const [first, second] = [chance.between(550, 800), chance.between(1100, 1600)];
  for (let k = 0; k < bursts; k++) {
    const length = Math.round(every * chance.between(0.5, 0.75) * RATE);
    const hz = start * chance.between(0.92, 1.05) * 0.97 ** k;
    const breath = chance.white(length);
    const voice = Float32Array.from({ length }, (_, i) => {
      const phase = ((hz * i) / RATE) % 1;
      const bell = Math.sin((Math.PI * i) / length);
      return bell * ((phase < 0.1 ? 1 : -0.1) + 0.15 * (breath[i] ?? 0));
    });
    const shaped = biquad(biquad(voice, 'peak', first, 3, 18), 'peak', second, 4, 14);
    addAt(out, biquad(shaped, 'low', 3500), Math.round(k * every * RATE), 0.08 * 0.93 ** k);
  }
  return out;
}
