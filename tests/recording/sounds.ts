import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';

/** The path of a checked-in recording. */
export function fixture(name: string): string {
  return fileURLToPath(new URL(`../fixtures/recording/${name}`, import.meta.url));
}

export const VOICE_MODELS = ['silero_vad_v5.onnx', 'silero_vad_v6.onnx'];

/** The path of a voice activity model as its package holds it. */
export function voiceModel(name: string): string {
  return fileURLToPath(new URL(`../../node_modules/@ricky0123/vad-web/dist/${name}`, import.meta.url));
}

/** A folder of the test file's own, gone when its tests are done, and a way to put files there. */
export function ownFolder(): { folder: string; write: (name: string, bytes: Uint8Array | string) => string } {
  const folder = mkdtempSync(join(tmpdir(), 'critsheet-recording-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    folder,
    write(name, bytes) {
      const path = join(folder, name);
      writeFileSync(path, bytes);
      return path;
    },
  };
}

/** Samples of a sine. */
export function tone(hz: number, rate: number, samples: number, amplitude = 1): Float32Array {
  return Float32Array.from(
    { length: samples },
    (_, i) => amplitude * Math.sin((2 * Math.PI * hz * i) / rate),
  );
}

/** The level in decibels of a full-scale sine, of the samples between `from` and `to`. */
export function levelDb(samples: Float32Array, from = 0, to = samples.length): number {
  let sum = 0;
  for (const sample of samples.subarray(from, to)) sum += sample ** 2;
  return 10 * Math.log10((2 * sum) / (to - from) + 1e-30);
}

/** Amplitude of the part of the sound that is a sine of this frequency, whatever its phase: one bin of a Fourier sum. */
export function amplitudeAt(hz: number, rate: number, samples: Float32Array): number {
  let real = 0;
  let imaginary = 0;
  samples.forEach((sample, i) => {
    real += sample * Math.cos((2 * Math.PI * hz * i) / rate);
    imaginary += sample * Math.sin((2 * Math.PI * hz * i) / rate);
  });
  return (2 * Math.hypot(real, imaginary)) / samples.length;
}

/** Noise that is the same on every run (a linear congruential generator; Numerical Recipes, section 7.1). */
export function noise(samples: number, amplitude: number): Float32Array {
  let state = 1;
  return Float32Array.from({ length: samples }, () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return amplitude * (state / 2 ** 31 - 1);
  });
}
