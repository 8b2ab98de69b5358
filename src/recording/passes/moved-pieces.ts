import { setImmediate } from 'node:timers/promises';
import type { Span } from '../../basics/span.ts';
import type { Watch } from '../recording.ts';
import { Correlator } from './correlator.ts';
import { SEARCH_RATE } from './heard.ts';

/** What is looked for: 64 ms of the recording, about a piece that stretchers move, every 64 ms or more. */
const WINDOW_SAMPLES = 512;
const BLOCK_SAMPLES = 8192;
/** Places in the shot are told apart to 16 ms; a piece may lie one more to either side, which makes 24 ms. */
const BIN_SAMPLES = 128;
/** Memory for the map, one byte each: beyond, windows lie further apart. */
const MOST_CELLS = 1.2e8;
/** A cell holds a height over the root mean square of its row, in parts of this. */
const CELL_STEPS = 16;
/** How far above chance, in standard deviations, a window of a play is taken to be, and the most that one may say. */
const USUAL_HEIGHT = 0.8;
const MOST_HEIGHT = 5;

/** A line through the map along which the shot seems to be heard. */
export interface Line {
  /** Seconds of the recording at which the shot's beginning lies or would lie. */
  readonly offset: number;
  readonly start: number;
  readonly stop: number;
  readonly nats: number;
}

/**
 * Where in the shot each short window of a recording resembles it most. A slower play at the same pitch is a line through this map: the
 * pieces of the waveform that a stretcher moves about lie near it.
 */
export class MovedPieces {
  readonly #cells: Uint8Array;
  readonly #windows: number;
  readonly #bins: number;
  readonly #hopSeconds: number;
  readonly #speed: number;
  readonly #means: Float32Array;
  readonly #scale: number;

  private constructor(
    cells: Uint8Array,
    [windows, bins]: [number, number],
    hopSeconds: number,
    speed: number,
    used: Uint8Array,
  ) {
    this.#cells = cells;
    [this.#windows, this.#bins] = [windows, bins];
    this.#hopSeconds = hopSeconds;
    this.#speed = speed;
    // Each row and each column has a mean of its own: vowels resemble vowels wherever they stand.
    const columns = new Float64Array(bins);
    const rows = new Float32Array(windows);
    let count = 0;
    for (let k = 0; k < windows; k++) {
      if (!used[k]) continue;
      let sum = 0;
      for (let j = 0; j < bins; j++) sum += cells[k * bins + j] as number;
      rows[k] = sum / bins;
      for (let j = 0; j < bins; j++)
        columns[j] = (columns[j] as number) + (cells[k * bins + j] as number) - sum / bins;
      count++;
    }
    this.#means = new Float32Array(windows + bins);
    let squares = 0;
    for (let j = 0; j < bins; j++) this.#means[windows + j] = (columns[j] as number) / Math.max(1, count);
    for (let k = 0; k < windows; k++) {
      this.#means[k] = used[k] ? (rows[k] as number) : Number.POSITIVE_INFINITY;
      for (let j = 0; used[k] && j < bins; j++) {
        squares +=
          ((cells[k * bins + j] as number) - (rows[k] as number) - (this.#means[windows + j] as number)) ** 2;
      }
    }
    this.#scale = 1 / (Math.sqrt(squares / Math.max(1, count * bins)) + 1e-9);
  }

  /**
   * @param recording whitened, at SEARCH_RATE
   * @param shot the same
   * @param taken stretches of the recording, in seconds, that are explained already
   */
  static async of(
    recording: Float32Array,
    shot: Float32Array,
    speed: number,
    taken: readonly Span[],
    watch: Watch = {},
  ): Promise<MovedPieces> {
    const bins = Math.ceil(shot.length / BIN_SAMPLES);
    const stretch = Math.ceil((recording.length / WINDOW_SAMPLES) * (bins / MOST_CELLS));
    const hop = WINDOW_SAMPLES * Math.max(1, stretch);
    const windows = Math.floor(recording.length / hop);
    const cells = new Uint8Array(windows * bins);
    const used = new Uint8Array(windows);
    const correlator = await Correlator.of(BLOCK_SAMPLES);
    try {
      const valid = Math.floor((BLOCK_SAMPLES - WINDOW_SAMPLES) / BIN_SAMPLES) * BIN_SAMPLES;
      const blocks: { from: number; held: number }[] = [];
      // A window's middle lies where the bin says: its beginning half a window before.
      for (let from = -WINDOW_SAMPLES / 2; from < shot.length - WINDOW_SAMPLES / 2; from += valid) {
        const block = new Float32Array(BLOCK_SAMPLES);
        const first = Math.max(0, from);
        block.set(shot.subarray(first, from + BLOCK_SAMPLES), first - from);
        const held = correlator.room();
        correlator.hold(held, block);
        blocks.push({ from, held });
      }
      const heights = new Float32Array(bins + 2);
      const window = correlator.room();
      for (let k = 0; k < windows; k++) {
        if (k % 256 === 0) {
          await setImmediate();
          watch.signal?.throwIfAborted();
        }
        const from = k * hop;
        const second = (from + WINDOW_SAMPLES / 2) / SEARCH_RATE;
        if (taken.some(({ start, end }) => second >= start && second < end)) continue;
        correlator.holdReversed(window, recording.subarray(from, from + WINDOW_SAMPLES));
        heights.fill(0);
        let squares = 0;
        for (const [b, { held }] of blocks.entries()) {
          const lags = correlator.correlate([held], [window]);
          const firstBin = (b * valid) / BIN_SAMPLES;
          for (let j = firstBin; j < Math.min(bins, firstBin + valid / BIN_SAMPLES); j++) {
            let most = 0;
            const end = (j - firstBin + 1) * BIN_SAMPLES;
            for (let i = end - BIN_SAMPLES; i < end; i++) {
              const square = (lags[i] as number) ** 2;
              squares += square;
              if (square > most) most = square;
            }
            heights[j + 1] = most;
          }
        }
        if (squares === 0) continue;
        used[k] = 1;
        const scale = CELL_STEPS / Math.sqrt(squares / (bins * BIN_SAMPLES));
        for (let j = 0; j < bins; j++) {
          const most = Math.max(heights[j] as number, heights[j + 1] as number, heights[j + 2] as number);
          cells[k * bins + j] = Math.min(255, Math.round(scale * Math.sqrt(most)));
        }
      }
    } finally {
      correlator.free();
    }
    return new MovedPieces(cells, [windows, bins], hop / SEARCH_RATE, speed, used);
  }

  /** How much likelier window `k` is with the shot's beginning at this second of the recording than without, in nats. */
  #natsAt(k: number, offset: number): number {
    const second =
      (k + 0.5 * Math.min(1, WINDOW_SAMPLES / SEARCH_RATE / this.#hopSeconds)) * this.#hopSeconds;
    const bin = Math.floor(((second - offset) * this.#speed * SEARCH_RATE) / BIN_SAMPLES);
    const mean = this.#means[k] as number;
    if (bin < 0 || bin >= this.#bins || mean === Number.POSITIVE_INFINITY) return 0;
    const height =
      this.#scale *
      ((this.#cells[k * this.#bins + bin] as number) - mean - (this.#means[this.#windows + bin] as number));
    return USUAL_HEIGHT * Math.min(MOST_HEIGHT, height) - USUAL_HEIGHT ** 2 / 2;
  }

  /** The nats of a stretch along one line. */
  sum(offset: number, start: number, stop: number): number {
    const [first, end] = [start, stop].map((second) => Math.round(second / this.#hopSeconds));
    let sum = 0;
    for (let k = Math.max(0, first as number); k < Math.min(this.#windows, end as number); k++)
      sum += this.#natsAt(k, offset);
    return sum;
  }

  /** The same for each of `steps` equal steps from the shot's beginning on. */
  along(offset: number, steps: number, stepSeconds: number): Float64Array {
    return Float64Array.from({ length: steps }, (_, step) => {
      const k = Math.floor((offset + (step + 0.5) * stepSeconds) / this.#hopSeconds);
      if (k < 0 || k >= this.#windows) return 0;
      return (this.#natsAt(k, offset) * stepSeconds) / this.#hopSeconds;
    });
  }

  /** The best stretch of each line, where it says more than `leastNats`: the strongest first, none in the time of a stronger one. */
  lines(leastNats: number): Line[] {
    const binSeconds = BIN_SAMPLES / SEARCH_RATE / this.#speed;
    const length = this.#bins * binSeconds;
    const found: Line[] = [];
    for (let offset = -length; offset < this.#windows * this.#hopSeconds; offset += binSeconds) {
      const first = Math.max(0, Math.floor(offset / this.#hopSeconds));
      const end = Math.min(this.#windows, Math.ceil((offset + length) / this.#hopSeconds));
      let best = { start: 0, stop: 0, nats: leastNats };
      let sum = 0;
      let from = first;
      for (let k = first; k < end; k++) {
        if (sum <= 0) [sum, from] = [0, k];
        sum += this.#natsAt(k, offset);
        if (sum > best.nats)
          best = { start: from * this.#hopSeconds, stop: (k + 1) * this.#hopSeconds, nats: sum };
      }
      if (best.nats > leastNats) found.push({ offset, ...best });
    }
    const kept: Line[] = [];
    for (const line of found.sort((a, b) => b.nats - a.nats)) {
      if (kept.every(({ start, stop }) => line.stop <= start || line.start >= stop)) kept.push(line);
    }
    return kept;
  }
}
