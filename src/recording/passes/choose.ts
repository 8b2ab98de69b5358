import { type Alignment, likeliest } from './align.ts';
import { HOP_SAMPLES } from './frames.ts';

/** Evidence below this, in nats, is chance: talk without the shot reached 27 in many hours. */
export const LEAST_EVIDENCE = 30;
/** Of an alignment that others took a part of, what is left must be as long as this and as sure. */
const LEAST_LEFT_WINDOWS = 30;
/** Two places of one play: as close as rooms and clocks leave them. */
const SAME_PLAY_SAMPLES = 96;

/** An alignment that was chosen, and how much surer it is than the best other way to explain the same sound. */
export interface Chosen {
  readonly alignment: Alignment;
  readonly lead: number;
}

/** The recording's sample at which a window of the alignment stands. */
export function sampleAt({ offset, pace, firstWindow }: Alignment, window: number): number {
  return offset + pace * (firstWindow + window) * HOP_SAMPLES;
}

/**
 * Chooses among alignments that explain the same sound: the strongest first, and of the others what is left of them. One moment
 * belongs to one play.
 */
export function choose(alignments: readonly Alignment[]): Chosen[] {
  const chosen: { alignment: Alignment; lead: number }[] = [];
  for (const found of [...alignments].sort((a, b) => b.total - a.total)) {
    const whole = found.windows;
    const left = unclaimed(
      found,
      chosen.map(({ alignment }) => alignment),
    );
    const same = chosen.find(({ alignment }) => isSamePlay(alignment, found));
    if (left && same && !liesBetween(same.alignment, found, chosen)) {
      same.alignment = joined(same.alignment, { ...found, windows: left });
    } else if (left && !same) {
      const part = left.from === whole.from && left.to === whole.to ? found : cutTo(found, left);
      if (part.evidence >= LEAST_EVIDENCE) chosen.push({ alignment: part, lead: part.evidence });
    }
    for (const other of chosen) {
      if (other.alignment === found || isSamePlay(other.alignment, found)) continue;
      const shared = sharedNats(other.alignment, found);
      if (shared) other.lead = Math.min(other.lead, shared);
    }
  }
  return chosen.sort((a, b) => startOf(a.alignment) - startOf(b.alignment));
}

const startOf = (alignment: Alignment) => sampleAt(alignment, alignment.windows.from);
const stopOf = (alignment: Alignment) => sampleAt(alignment, alignment.windows.to);

export function isSamePlay(a: Alignment, b: Pick<Alignment, 'heard' | 'offset'>): boolean {
  return a.heard === b.heard && Math.abs(a.offset - b.offset) <= SAME_PLAY_SAMPLES;
}

/** The best stretch of an alignment that no chosen one has taken; null where it is too short or says too little. */
function unclaimed(found: Alignment, chosen: readonly Alignment[]): { from: number; to: number } | null {
  const nats = Float64Array.from(found.nats);
  let touched = false;
  for (const other of chosen) {
    const from = Math.max(0, Math.ceil((startOf(other) - sampleAt(found, 0)) / HOP_SAMPLES / found.pace));
    const to = Math.min(
      nats.length,
      Math.floor((stopOf(other) - sampleAt(found, 0)) / HOP_SAMPLES / found.pace),
    );
    if (from >= to) continue;
    nats.fill(-Infinity, from, to);
    touched ||= from < found.windows.to && to > found.windows.from;
  }
  if (!touched) return found.windows;
  const left = likeliest(nats, found.windows.from, found.windows.to);
  return left.to - left.from >= LEAST_LEFT_WINDOWS ? left : null;
}

function sumOver(nats: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let k = Math.max(0, from); k < Math.min(nats.length, to); k++) sum += nats[k] as number;
  return sum;
}

function cutTo(alignment: Alignment, windows: { from: number; to: number }): Alignment {
  const whole = sumOver(alignment.nats, alignment.windows.from, alignment.windows.to);
  const share = sumOver(alignment.nats, windows.from, windows.to) / whole;
  return { ...alignment, windows, evidence: share * alignment.evidence };
}

/** Two stretches of one play with a gap in which the shot is silent or drowned: the play went on. */
function joined(a: Alignment, b: Alignment): Alignment {
  const shift = b.firstWindow - a.firstWindow;
  const from = Math.min(a.windows.from, b.windows.from + shift);
  const to = Math.max(a.windows.to, b.windows.to + shift);
  const first = Math.min(0, shift, from);
  const nats = new Float64Array(Math.max(a.nats.length, b.nats.length + shift, to) - first);
  nats.set(b.nats, shift - first);
  nats.set(a.nats, -first);
  const windows = { from: from - first, to: to - first };
  return {
    ...a,
    firstWindow: a.firstWindow + first,
    nats,
    windows,
    evidence: Math.max(a.evidence, b.evidence),
  };
}

/** Whether another play stands between two stretches: then they are two plays after all. */
function liesBetween(a: Alignment, b: Alignment, chosen: readonly { alignment: Alignment }[]): boolean {
  const from = Math.min(stopOf(a), stopOf(b));
  const to = Math.max(startOf(a), startOf(b));
  return chosen.some(
    ({ alignment }) => alignment !== a && startOf(alignment) < to && stopOf(alignment) > from,
  );
}

/** By how much `a` explains the time that both share better than `b`; null where they share less than half of `whole`. */
export function sharedNats(a: Alignment, b: Alignment, whole: Alignment = a): number | null {
  const from = Math.max(startOf(a), startOf(b));
  const to = Math.min(stopOf(a), stopOf(b));
  if (to - from < 0.5 * (stopOf(whole) - startOf(whole))) return null;
  const windowIn = (x: Alignment, sample: number) =>
    Math.round((sample - sampleAt(x, 0)) / HOP_SAMPLES / x.pace);
  return (
    sumOver(a.nats, windowIn(a, from), windowIn(a, to)) - sumOver(b.nats, windowIn(b, from), windowIn(b, to))
  );
}
