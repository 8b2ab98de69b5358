import { seeded } from '../../../src/training/seeded.ts';

/** Draws from one repeatable source of numbers. */
export class Chance {
  readonly next: () => number;

  constructor(seed: number) {
    this.next = seeded(seed);
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** A whole number, both ends included. */
  whole(low: number, high: number): number {
    return Math.floor(this.between(low, high + 1));
  }

  yes(probability: number): boolean {
    return this.next() < probability;
  }

  one<T>(of: readonly T[]): T {
    const drawn = of[Math.floor(this.next() * of.length)];
    if (drawn === undefined) throw new Error('nothing to draw from');
    return drawn;
  }

  /** Near enough to a normal variable of variance 1. */
  normal(): number {
    return (this.next() + this.next() + this.next() + this.next() - 2) * Math.sqrt(3);
  }

  /** White noise of variance 1. */
  white(samples: number): Float32Array {
    const noise = new Float32Array(samples);
    for (let i = 0; i < samples; i++) noise[i] = this.normal();
    return noise;
  }
}
