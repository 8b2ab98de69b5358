import { rm } from 'node:fs/promises';
import { type Entry, listEntries } from './entries.ts';

/** What is left when room is made, as a part of the bound: so that it is not made again for every entry. */
const LEFT = 0.9;
/** A process counts anew after writing this part of the bound, because others write too. */
const COUNT_EVERY = 0.02;
/** An unfinished file this old belongs to no process that still writes it. */
const STALE_MILLISECONDS = 3_600_000;

/** Keeps a folder of entries within its bound: what was not used for longest goes first. */
export class Bound {
  readonly #folder: string;
  readonly #mostBytes: number;
  /** Bytes written since the entries were counted, by this process; infinite before the first count. */
  #written = Number.POSITIVE_INFINITY;
  /** Bytes that were there at the last count. */
  #counted = 0;
  #working: Promise<void> | undefined;

  constructor(folder: string, mostBytes: number) {
    this.#folder = folder;
    this.#mostBytes = mostBytes;
  }

  /** Makes room for so many bytes more, where they would go over the bound. */
  async makeRoomFor(bytes: number): Promise<void> {
    await this.#working;
    const full = this.#counted + this.#written + bytes > this.#mostBytes;
    if (full || this.#written > COUNT_EVERY * this.#mostBytes) {
      this.#working ??= this.#count(bytes).finally(() => {
        this.#working = undefined;
      });
      await this.#working;
    }
    this.#written += bytes;
  }

  async #count(coming: number): Promise<void> {
    const entries = await listEntries(this.#folder);
    const stale = (entry: Entry) => !entry.whole && Date.now() - entry.usedAt > STALE_MILLISECONDS;
    for (const { path } of entries.filter(stale)) await remove(path);
    const kept = entries.filter((entry) => !stale(entry)).sort((a, b) => a.usedAt - b.usedAt);
    let bytes = kept.reduce((sum, entry) => sum + entry.bytes, 0);
    if (bytes + coming > this.#mostBytes) {
      for (const entry of kept) {
        if (bytes + coming <= LEFT * this.#mostBytes) break;
        // A file that another process is still writing is not ours to remove.
        if (!entry.whole) continue;
        await remove(entry.path);
        bytes -= entry.bytes;
      }
    }
    this.#counted = bytes;
    this.#written = 0;
  }
}

/** Another process may have been faster, and what cannot be removed is counted again next time. */
async function remove(path: string): Promise<void> {
  await rm(path, { force: true }).catch(() => undefined);
}
