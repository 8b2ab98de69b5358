import type { Span } from '../../basics/span.ts';

/** Where a moment of the recording can be heard: a sound, and how many seconds of it lie before the recording's second 0. */
export interface Heard {
  readonly address: string;
  /** Second of the sound = second of the recording + this. */
  readonly shift: number;
}

/** Finds the sound that holds a span; null where there is none. */
export type FindSound = (span: Span) => Promise<Heard | null> | Heard | null;

/** What is told while words play. */
export interface Listener {
  /** Second of the recording that is heard now. */
  onTime(seconds: number): void;
  /** Playing ended, was stopped, or could not begin; then `fault` says why, for a person. */
  onEnd(fault: string | null): void;
}

/** Plays one span of the recording at a time. */
export class Player {
  readonly #sound = new Audio();
  readonly #find: FindSound;
  #listener: Listener | null = null;
  #span: Span = { start: 0, end: 0 };
  #shift = 0;
  #turn = 0;

  constructor(find: FindSound) {
    this.#find = find;
    this.#sound.preload = 'auto';
    this.#sound.addEventListener('ended', () => this.stop());
    this.#sound.addEventListener('error', () => {
      if (this.#listener) this.stop('This sound cannot be played here.');
    });
  }

  get playing(): boolean {
    return this.#listener !== null;
  }

  /** Plays from `from` (a second of the recording, inside the span or before it) to the span's end. */
  async play(span: Span, from: number, listener: Listener): Promise<void> {
    this.stop();
    const turn = ++this.#turn;
    this.#listener = listener;
    this.#span = span;
    try {
      const heard = await this.#find({ start: Math.min(from, span.start), end: span.end });
      if (turn !== this.#turn) return;
      if (!heard) {
        this.stop('There is no sound for these words.');
        return;
      }
      this.#shift = heard.shift;
      if (this.#sound.getAttribute('src') !== heard.address) this.#sound.src = heard.address;
      this.#sound.currentTime = Math.max(0, from + heard.shift);
      await this.#sound.play();
      if (turn === this.#turn) this.#watch();
    } catch {
      if (turn === this.#turn) this.stop('This sound cannot be played here.');
    }
  }

  stop(fault: string | null = null): void {
    const listener = this.#listener;
    this.#listener = null;
    this.#turn++;
    this.#sound.pause();
    listener?.onEnd(fault);
  }

  /** A timer beside the drawing frames: those stand still in a tab that is not seen, and the end must not be missed. */
  #watch(): void {
    const turn = this.#turn;
    const look = (): boolean => {
      if (turn !== this.#turn) return false;
      const now = this.#sound.currentTime - this.#shift;
      this.#listener?.onTime(now);
      if (now >= this.#span.end) this.stop();
      return turn === this.#turn;
    };
    const draw = (): void => {
      if (look()) requestAnimationFrame(draw);
    };
    const timer = setInterval(() => {
      if (!look()) clearInterval(timer);
    }, 100);
    draw();
  }
}
