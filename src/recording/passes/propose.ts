import { setImmediate } from 'node:timers/promises';
import type { Watch } from '../recording.ts';
import { Correlator, type Held } from './correlator.ts';
import { powerOfTwo } from './fourier.ts';
import { Rows } from './rows.ts';

/** A place where a part of the shot's sound seems to be heard. */
export interface Hit {
  /** Sample of the recording at which the shot's first sample lies or would lie. */
  readonly offset: number;
  /** The shot's samples that were compared. */
  readonly from: number;
  readonly to: number;
  /** Height of the correlation over its own root mean square nearby: for chance, a normal variable. */
  readonly height: number;
}

export interface Pieces {
  /** Samples of a piece. */
  readonly length: number;
  /** Offsets that are looked at together, in pieces. */
  readonly together: number;
  readonly leastHeight: number;
}

/** A sound as one or more series of equal length: its samples, or what is followed in each of its bands. */
export type Channels = readonly Float32Array[];

const lengthOf = (channels: Channels): number => channels[0]?.length ?? 0;

/**
 * Lays the shot on the recording at every offset and gives the places where some of it stands out. The shot is cut into pieces,
 * each is correlated and normalised by the recording's level under it; along one offset, two and four pieces in a row are added up. Both sounds
 * must be evened out and of the same rate and channels.
 */
export async function findHits(
  recording: Channels,
  shot: Channels,
  pieces: Pieces,
  watch: Watch = {},
): Promise<Hit[]> {
  const { length, together } = pieces;
  const correlator = await Correlator.of(powerOfTwo((together + 1) * length));
  try {
    const shotLength = lengthOf(shot);
    const sought = piecesOf(shot, length).map((piece) => piece.map((part) => correlator.holdSought(part)));
    const heard = new Segments(correlator, recording, pieces, sought.length + together);
    const rows = new Rows(together * length, pieces.leastHeight);
    const hits: Hit[] = [];
    const last = Math.ceil(lengthOf(recording) / length);
    for (let first = -sought.length; first < last; first += together) {
      await setImmediate();
      watch.signal?.throwIfAborted();
      watch.onProgress?.(Math.max(0, first) / last);
      rows.clear();
      for (const [k, piece] of sought.entries()) {
        const segment = heard.at(first + k);
        const lags = segment && correlator.correlate(segment.held, piece);
        rows.push(lags, segment?.weights, (offset, inRow, height) => {
          const to = Math.min(shotLength, (k + 1) * length);
          hits.push({ offset: first * length + offset, from: (k + 1 - inRow) * length, to, height });
        });
      }
    }
    return hits;
  } finally {
    correlator.free();
  }
}

/** A rest of less than a quarter of a piece is left out. */
function piecesOf(shot: Channels, length: number): Channels[] {
  const pieces: Channels[] = [];
  for (let at = 0; at + length / 4 <= lengthOf(shot); at += length)
    pieces.push(shot.map((part) => part.subarray(at, at + length)));
  return pieces;
}

interface Segment {
  number: number;
  readonly held: readonly Held[];
  /** One over the level under a piece at each lag. */
  readonly weights: Float32Array;
}

/** The recording's segments, a piece's length apart, of which each is used by all pieces, one block after the other. */
class Segments {
  readonly #correlator: Correlator;
  readonly #recording: Channels;
  readonly #pieces: Pieces;
  readonly #kept: Segment[];

  constructor(correlator: Correlator, recording: Channels, pieces: Pieces, count: number) {
    this.#correlator = correlator;
    this.#recording = recording;
    this.#pieces = pieces;
    this.#kept = Array.from({ length: count }, () => ({
      number: Number.NaN,
      held: recording.map(() => correlator.room()),
      weights: new Float32Array(pieces.together * pieces.length),
    }));
  }

  /** Undefined where there is no recording. */
  at(number: number): Segment | undefined {
    const { length, together } = this.#pieces;
    const span = (together + 1) * length;
    const from = number * length;
    if (from + span <= 0 || from >= lengthOf(this.#recording)) return undefined;
    const count = this.#kept.length;
    const segment = this.#kept[((number % count) + count) % count];
    if (!segment || segment.number === number) return segment;
    const powers = new Float64Array(span);
    const begin = Math.max(0, from);
    for (const [channel, part] of this.#recording.entries()) {
      const block = new Float32Array(span);
      block.set(part.subarray(begin, Math.max(begin, from + span)), begin - from);
      this.#correlator.hold(segment.held[channel] as Held, block);
      for (let i = 0; i < span; i++) powers[i] = (powers[i] as number) + (block[i] as number) ** 2;
    }
    weigh(segment.weights, powers, length);
    segment.number = number;
    return segment;
  }
}

/** Share of the segment's strongest stretch below which there is next to nothing to compare. */
const LEAST_ENERGY = 0.05;

function weigh(weights: Float32Array, powers: Float64Array, length: number): void {
  let energy = 0;
  let most = 0;
  for (let i = 0; i < length - 1; i++) energy += powers[i] as number;
  for (let i = 0; i < weights.length; i++) {
    energy += powers[i + length - 1] as number;
    weights[i] = Math.max(0, energy);
    most = Math.max(most, energy);
    energy -= powers[i] as number;
  }
  const least = LEAST_ENERGY * most;
  for (let i = 0; i < weights.length; i++) {
    const under = weights[i] as number;
    weights[i] = under > least ? 1 / Math.sqrt(under) : 0;
  }
}
