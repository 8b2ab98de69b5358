/** So many pieces of work at once and no more; the others wait in the order they came. */
export class Slots {
  #free: number;
  readonly #waiting: (() => void)[] = [];

  constructor(count: number) {
    this.#free = count;
  }

  /** Does some work when there is room for it. @throws The signal's reason where it was aborted while it waited. */
  async hold<T>(work: () => Promise<T>, signal: AbortSignal): Promise<T> {
    if (this.#free === 0) await new Promise<void>((go) => this.#waiting.push(go));
    else this.#free--;
    try {
      signal.throwIfAborted();
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next) next();
      else this.#free++;
    }
  }
}
