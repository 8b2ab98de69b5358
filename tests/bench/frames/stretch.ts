import { Fourier } from '../../../src/recording/passes/fourier.ts';
import { RATE } from './sound.ts';

/**
 * Twice as long at the same pitch, by overlapping pieces that are moved until they fit (waveform-similarity overlap-add,
 * W. Verhelst and M. Roelands, 1993), as players do for speech: pieces of 20 to 80 ms.
 */
export function stretchedByPieces(sound: Float32Array, pieceSeconds: number): Float32Array {
  const hop = Math.round((pieceSeconds * RATE) / 2);
  const reach = Math.round(0.008 * RATE);
  const out = new Float32Array(2 * sound.length + 2 * hop);
  let last = 0;
  for (let k = 0; k * hop < 2 * sound.length; k++) {
    const ideal = Math.round((k * hop) / 2);
    let best = ideal;
    if (k > 0) {
      // What would come next if nothing were moved; the new piece should begin alike.
      const next = last + hop;
      let most = -Infinity;
      for (let at = ideal - reach; at <= ideal + reach; at += 2) {
        let sum = 0;
        for (let i = 0; i < hop; i += 3) sum += (sound[next + i] ?? 0) * (sound[at + i] ?? 0);
        if (sum > most) [most, best] = [sum, at];
      }
    }
    for (let i = 0; i < 2 * hop; i++) {
      const weight = 0.5 - 0.5 * Math.cos((Math.PI * (i + 0.5)) / hop);
      const place = k * hop - hop / 2 + i;
      if (place >= 0 && place < out.length)
        out[Math.floor(place)] =
          (out[Math.floor(place)] as number) + weight * (sound[best + i - Math.floor(hop / 2)] ?? 0);
    }
    last = best;
  }
  return out.subarray(0, 2 * sound.length);
}

/** Twice as long at the same pitch, by a phase vocoder (M. Dolson, The phase vocoder: a tutorial, 1986). */
export function stretchedByPhases(sound: Float32Array): Float32Array {
  const size = 1024;
  const hop = 256;
  const fft = new Fourier(size);
  const bins = size / 2 + 1;
  const phases = new Float64Array(bins);
  const lastPhases = new Float64Array(bins);
  const out = new Float32Array(2 * sound.length + 2 * size);
  const window = Float64Array.from(
    { length: size },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size),
  );
  const spectrum = fft.complexArray();
  const back = fft.complexArray();
  for (let k = 0; k * hop < 2 * sound.length + size / 2; k++) {
    const from = Math.round((k * hop) / 2) - size / 2;
    fft.forwardReal(
      spectrum,
      window.map((w, i) => w * (sound[from + i] ?? 0)),
    );
    for (let bin = 0; bin < bins; bin++) {
      const re = spectrum[2 * bin] as number;
      const im = spectrum[2 * bin + 1] as number;
      const phase = Math.atan2(im, re);
      const expected = (2 * Math.PI * bin * hop) / 2 / size;
      let turn = phase - (lastPhases[bin] as number) - expected;
      turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
      phases[bin] = k === 0 ? phase : (phases[bin] as number) + 2 * (expected + turn);
      lastPhases[bin] = phase;
      const amplitude = Math.hypot(re, im);
      spectrum[2 * bin] = amplitude * Math.cos(phases[bin] as number);
      spectrum[2 * bin + 1] = amplitude * Math.sin(phases[bin] as number);
    }
    fft.inverseReal(back, spectrum);
    for (let i = 0; i < size; i++) {
      const place = k * hop - size / 2 + i;
      if (place >= 0 && place < out.length)
        out[place] = (out[place] as number) + ((window[i] as number) * (back[2 * i] as number)) / 1.5;
    }
  }
  return out.subarray(0, 2 * sound.length);
}
