import { fftConvolution } from 'ml-convolution';
import type { Chance } from './chance.ts';
import { biquad, gainOf, RATE } from './sound.ts';

/** How the shot's sound gets into the recording. */
export interface Way {
  readonly name: 'straight' | 'room';
  readonly pass: (sound: Float32Array) => Float32Array;
}

/**
 * Straight (the computer's own sound, with a gentle filter), or from a loudspeaker through a room into a microphone: a
 * narrow band with two resonances, then a direct path, early reflections and a tail that dies away exponentially.
 */
export function makeWay(chance: Chance): Way {
  if (chance.yes(0.3)) {
    const cut = chance.between(3500, 7500);
    return { name: 'straight', pass: (sound) => biquad(sound, 'low', cut) };
  }
  const [lowCut, highCut] = [chance.between(100, 350), chance.between(3500, 7000)];
  const peaks = [0, 1].map(() => ({ hz: chance.between(300, 4000), db: chance.between(-8, 8) }));
  const room = impulse(chance);
  return {
    name: 'room',
    pass(sound) {
      let heard = biquad(biquad(biquad(sound, 'high', lowCut), 'high', lowCut), 'low', highCut);
      for (const { hz, db } of peaks) heard = biquad(heard, 'peak', hz, 1.5, db);
      const withTail = new Float32Array(heard.length + (room.length >> 1));
      withTail.set(heard);
      return Float32Array.from(fftConvolution(withTail, room));
    },
  };
}

/** Backwards, since the library's convolution does not turn the kernel round, with the direct path in the middle. */
function impulse(chance: Chance): Float64Array {
  const tail = chance.between(0.15, 0.5);
  const length = Math.round(tail * RATE);
  const half = new Float64Array(2 * length + 1);
  half[length] = 1;
  for (let k = 0; k < chance.whole(2, 6); k++) {
    const at = Math.round(chance.between(0.001, 0.02) * RATE);
    half[length - at] = (half[length - at] as number) + chance.between(-0.6, 0.6);
  }
  // Level of the whole tail against the direct path.
  const share = gainOf(chance.between(-12, 3));
  const noise = chance.white(length);
  const scale = share / Math.sqrt(length / 13.8);
  for (let i = 30; i < length; i++) {
    half[length - i] =
      (half[length - i] as number) + scale * (noise[i] as number) * Math.exp((-6.9 * i) / length);
  }
  return half;
}

/** A room's noise: dull hiss, sometimes with mains hum. Of level 1. */
export function makeNoise(samples: number, chance: Chance): Float32Array {
  const hiss = biquad(chance.white(samples), 'low', chance.between(300, 5000), 0.5);
  const hum = chance.yes(0.3) ? chance.between(0.2, 1) : 0;
  const noise = hiss.map((x, i) => x + hum * 0.3 * Math.sin((2 * Math.PI * 100 * i) / RATE));
  const size = Math.sqrt(noise.reduce((sum, x) => sum + x * x, 0) / samples);
  return noise.map((x) => x / size);
}
