/** The mean of two sides is this much weaker than each (power, -25 dB) only where one is the other turned upside down. */
const CANCELLED_SHARE = 0.003;
/** Mean square below which a slice is silence, where nothing can be told. */
const SILENCE = 1e-8;

/**
 * Mixes channels that stand side by side to one: their mean, which keeps the level of a voice that is on all of them and
 * cannot overflow. A microphone with a balanced cable in a stereo socket puts the same voice on both sides, once upside
 * down; their mean would be silence, so there the first side is taken alone.
 */
export class Mixer {
  readonly #channels: number;
  readonly #leftOut: number | null;
  #frames = 0;
  #cancelledFrames = 0;

  /** @param leftOut a channel to leave out, the low-frequency effects of 5.1; null to take all */
  constructor(channels: number, leftOut: number | null) {
    this.#channels = channels;
    this.#leftOut = leftOut;
  }

  /** @param out gets one value for each frame of `interleaved` */
  mix(interleaved: Float32Array, out: Float32Array): void {
    this.#frames += out.length;
    if (this.#channels === 1) out.set(interleaved.subarray(0, out.length));
    else if (this.#channels === 2) this.#mixSides(interleaved, out);
    else this.#mixMany(interleaved, out);
  }

  #mixMany(interleaved: Float32Array, out: Float32Array): void {
    const channels = this.#channels;
    const leftOut = this.#leftOut;
    const share = 1 / (leftOut === null ? channels : channels - 1);
    for (let frame = 0, at = 0; frame < out.length; frame++, at += channels) {
      let sum = 0;
      for (let channel = 0; channel < channels; channel++) sum += interleaved[at + channel] as number;
      if (leftOut !== null) sum -= interleaved[at + leftOut] as number;
      out[frame] = sum * share;
    }
  }

  #mixSides(interleaved: Float32Array, out: Float32Array): void {
    let mixedPower = 0;
    let sidePower = 0;
    for (let frame = 0; frame < out.length; frame++) {
      const left = interleaved[2 * frame] as number;
      const right = interleaved[2 * frame + 1] as number;
      const mean = (left + right) / 2;
      out[frame] = mean;
      mixedPower += mean * mean;
      sidePower += (left * left + right * right) / 2;
    }
    if (sidePower < SILENCE * out.length || mixedPower > CANCELLED_SHARE * sidePower) return;
    this.#cancelledFrames += out.length;
    for (let frame = 0; frame < out.length; frame++) out[frame] = interleaved[2 * frame] as number;
  }

  /** A sentence where the sides cancelled each other for a good part of the recording. */
  messages(name: string): string[] {
    if (this.#cancelledFrames < this.#frames / 10) return [];
    return [`The two sides of ${name} cancel each other (one is upside down); the left one was used alone.`];
  }
}
