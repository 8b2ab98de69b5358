type Send = (event: string, data: string) => Promise<void>;

export interface Viewer {
  readonly send: Send;
  /** Is fulfilled when the page is closed or the serving ends. */
  readonly gone: Promise<void>;
  readonly leave: () => void;
}

/** A page that is loaded anew goes and comes back; only after so long is it closed. */
const BACK_WITHIN_MILLISECONDS = 4000;

/** The pages that are open, told of every save. */
export class Viewers {
  readonly #viewers = new Set<Viewer>();
  readonly #onAllGone: () => void;
  readonly #counts = new Map<number, number>();
  #timer: NodeJS.Timeout | undefined;

  /** @param onAllGone Called when the last page was closed and none came back. */
  constructor(onAllGone: () => void, revision: number, decisions: number) {
    this.#onAllGone = onAllGone;
    this.#counts.set(revision, decisions);
  }

  come(send: Send): Viewer {
    clearTimeout(this.#timer);
    let leave: () => void = () => undefined;
    const gone = new Promise<void>((resolve) => {
      leave = resolve;
    });
    const viewer = { send, gone, leave };
    this.#viewers.add(viewer);
    // Something has to be sent at once, or a browser waits for the answer to begin.
    void send('hello', '').catch(() => this.go(viewer));
    return viewer;
  }

  go(viewer: Viewer): void {
    viewer.leave();
    if (!this.#viewers.delete(viewer) || this.#viewers.size > 0) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(this.#onAllGone, BACK_WITHIN_MILLISECONDS);
  }

  /** Tells every page that there is a newer revision, and remembers how many decisions it holds. */
  saved(revision: number, decisions: number): void {
    this.#counts.set(revision, decisions);
    this.#tell('saved', String(revision));
  }

  /** How many decisions there were at a revision; 0 where that is not known. */
  countAt(revision: number): number {
    return this.#counts.get(revision) ?? 0;
  }

  end(): void {
    clearTimeout(this.#timer);
    this.#tell('ended', '');
    for (const viewer of this.#viewers) viewer.leave();
    this.#viewers.clear();
  }

  #tell(event: string, data: string): void {
    for (const viewer of this.#viewers) void viewer.send(event, data).catch(() => this.go(viewer));
  }
}
