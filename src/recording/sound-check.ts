/** Above this no microphone's sound can be: a broken number, not loudness. Full scale is 1. */
const ABSURD = 1e6;
const FULL_SCALE = 0.999;
/** Share of samples at full scale from which clipping is heard; a loud, whole recording stays far below. */
const CLIPPED_SHARE = 0.0005;
/** Floating-point sound may go over full scale; the recognisers expect that it does not, beyond a filter's overshoot. */
const TOO_LOUD = 1.5;

/**
 * Looks at every sample once: puts silence in place of what is not a number, and counts what is cut off at full scale:
 * flat tops, where a sample at full scale equals its neighbour, and the samples beyond it that a lossy codec makes of them.
 * A whole sound that just reaches full scale has neither.
 */
export class SoundCheck {
  #seen = 0;
  #broken = 0;
  #clipped = 0;
  readonly #channels: number;

  /** @param channels how many stand side by side in what will be looked at */
  constructor(channels: number) {
    this.#channels = channels;
  }

  /** Counts, and mends `samples` in place. */
  look(samples: Float32Array): void {
    this.#seen += samples.length;
    for (let i = 0; i < samples.length; i++) {
      const size = Math.abs(samples[i] as number);
      if (size < FULL_SCALE) continue;
      if (size <= ABSURD) {
        if (size > 1 || samples[i] === samples[i - this.#channels]) this.#clipped++;
      } else {
        samples[i] = 0;
        this.#broken++;
      }
    }
  }

  /** One sentence for each thing found. */
  messages(name: string): string[] {
    const found: string[] = [];
    if (this.#broken > 0) {
      found.push(`${name} holds ${this.#broken} broken samples (not a number); they were read as silence.`);
    }
    const share = this.#clipped / this.#seen;
    if (share >= CLIPPED_SHARE) {
      const percent = Number((100 * share).toPrecision(2));
      found.push(
        `${name} is clipped: ${percent} % of its samples are cut off at full scale, so words may be misheard. ` +
          'Record with the level lower.',
      );
    }
    return found;
  }
}

/** Turns sound that goes far over full scale down to it, in place. Gives a sentence about it, or null where nothing was done. */
export function turnDown(samples: Float32Array, name: string): string | null {
  let peak = 0;
  for (let i = 0; i < samples.length; i++) peak = Math.max(peak, Math.abs(samples[i] as number));
  if (peak <= TOO_LOUD) return null;
  for (let i = 0; i < samples.length; i++) samples[i] = (samples[i] as number) / peak;
  return `${name} goes ${peak.toFixed(1)} times over full scale; it was turned down to fit.`;
}
