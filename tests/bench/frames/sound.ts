/** Plain tools on 16 kHz mono samples for the generated recordings. */
export const RATE = 16000;

export const gainOf = (decibels: number) => 10 ** (decibels / 20);

export function level(sound: Float32Array): number {
  let sum = 0;
  for (const sample of sound) sum += sample ** 2;
  return Math.sqrt(sum / Math.max(1, sound.length));
}

/** Level of the loud part: root mean square over those fiftieths of a second that are within 30 dB of the loudest. */
export function activeLevel(sound: Float32Array): number {
  const step = RATE / 50;
  const powers: number[] = [];
  for (let at = 0; at + step <= sound.length; at += step) {
    powers.push(level(sound.subarray(at, at + step)) ** 2);
  }
  const floor = Math.max(...powers, 0) / 1000;
  const active = powers.filter((power) => power > floor);
  return Math.sqrt(active.reduce((sum, power) => sum + power, 0) / Math.max(1, active.length));
}

export function scaled(sound: Float32Array, gain: number): Float32Array {
  return sound.map((sample) => sample * gain);
}

export function addAt(into: Float32Array, sound: Float32Array, at: number, gain = 1): void {
  const from = Math.max(0, -at);
  const to = Math.min(sound.length, into.length - at);
  for (let i = from; i < to; i++) into[at + i] = (into[at + i] as number) + gain * (sound[i] as number);
}

/** A second-order filter (R. Bristow-Johnson, Cookbook formulae for audio EQ biquad filter coefficients). */
export function biquad(
  sound: Float32Array,
  kind: 'low' | 'high' | 'band' | 'peak',
  hz: number,
  q = Math.SQRT1_2,
  decibels = 0,
): Float32Array {
  const w = (2 * Math.PI * Math.min(hz, 0.49 * RATE)) / RATE;
  const [cos, alpha, a] = [Math.cos(w), Math.sin(w) / (2 * q), 10 ** (decibels / 40)];
  const [b0, b1, b2, a0, a2] =
    kind === 'low'
      ? [(1 - cos) / 2, 1 - cos, (1 - cos) / 2, 1 + alpha, 1 - alpha]
      : kind === 'high'
        ? [(1 + cos) / 2, -1 - cos, (1 + cos) / 2, 1 + alpha, 1 - alpha]
        : kind === 'band'
          ? [alpha, 0, -alpha, 1 + alpha, 1 - alpha]
          : [1 + alpha * a, -2 * cos, 1 - alpha * a, 1 + alpha / a, 1 - alpha / a];
  const a1 = -2 * cos;
  const out = new Float32Array(sound.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < sound.length; i++) {
    const x = sound[i] as number;
    const y = (b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2) / a0;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    out[i] = y;
  }
  return out;
}

/** Reads a sound at another pace, 16 windowed-sinc taps to a sample: `pace` 2 is twice as fast and an octave higher. */
export function atPace(sound: Float32Array, pace: number): Float32Array {
  const out = new Float32Array(Math.floor(sound.length / pace));
  const cutoff = Math.min(1, 0.95 / pace);
  const half = 12;
  for (let k = 0; k < out.length; k++) {
    const at = k * pace;
    const whole = Math.floor(at);
    let sum = 0;
    for (let i = Math.max(0, whole - half + 1); i <= Math.min(sound.length - 1, whole + half); i++) {
      const d = i - at;
      const x = Math.PI * cutoff * d;
      const window = 0.5 + 0.5 * Math.cos((Math.PI * d) / (half + 1));
      sum += (sound[i] as number) * window * (Math.abs(x) < 1e-9 ? cutoff : (cutoff * Math.sin(x)) / x);
    }
    out[k] = sum;
  }
  return out;
}
