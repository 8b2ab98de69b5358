import type { Alignment } from './align.ts';
import { sampleAt } from './choose.ts';
import { HOP_SAMPLES } from './frames.ts';

/** Where a play begins or stops: samples of the heard shot, the likeliest, and within what it lies with 95 %. */
export interface End {
  readonly at: number;
  readonly earliest: number;
  readonly latest: number;
}

export interface Ends {
  readonly start: End;
  readonly stop: End;
}

/**
 * How often, before anything is heard, a play begins with the shot's beginning or stops at its end, and how often one goes on
 * where the last one stopped. Reasoned from how people play shots, not counted.
 */
const WHOLE = 0.35;
const GOES_ON = 0.3;
/** Tails of the 95 % on either side. */
const TAIL = 0.025;

/**
 * Says for each play where it starts and stops: Bayes' rule over all windows, with what is heard as the likelihood. Where the
 * shot sounds, that is good to a window. Where the shot is silent nothing is heard of its stop; then what people do decides, and the
 * bounds are wide.
 * @param alignments in the order of time
 */
export function placeEnds(alignments: readonly Alignment[]): Ends[] {
  const starts = alignments.map((alignment, i) => startChances(alignment, alignments[i - 1]));
  const stops = alignments.map((alignment, i) => stopChances(alignment, alignments[i + 1]));
  alignments.forEach((alignment, i) => {
    const [start, stop] = [starts[i], stops[i - 1]];
    if (start && stop && alignments[i - 1]?.heard === alignment.heard) goOn(stop, start);
  });
  return alignments.flatMap(({ heard }, i) => {
    const [start, stop] = [starts[i], stops[i]];
    if (!start || !stop) return [];
    return [
      {
        start: endOf(start, 0, heard.samples.length),
        stop: endOf(stop, heard.samples.length, heard.samples.length),
      },
    ];
  });
}

/** Chances over the boundaries between windows of the heard shot: `chances[i]` is that before window `first + i`. */
interface Chances {
  first: number;
  chances: Float64Array;
}

function startChances(alignment: Alignment, before: Alignment | undefined): Chances {
  const { nats, windows, firstWindow } = alignment;
  const notBefore = before ? sampleAt(before, before.windows.to) : 0;
  const log = new Float64Array(windows.to).fill(-Infinity);
  for (let k = windows.to - 1, sum = 0; k >= 0; k--) {
    sum += nats[k] as number;
    if (k > windows.from || sampleAt(alignment, k + 1) >= notBefore) log[k] = sum;
  }
  return withPrior(log, firstWindow, 0, alignment.heard.samples.length);
}

function stopChances(alignment: Alignment, after: Alignment | undefined): Chances {
  const { nats, windows, firstWindow } = alignment;
  const notAfter = after ? sampleAt(after, after.windows.from) : Infinity;
  const log = new Float64Array(nats.length - windows.from).fill(-Infinity);
  for (let k = windows.from, sum = 0; k < nats.length; k++) {
    sum += nats[k] as number;
    if (k + 1 < windows.to || sampleAt(alignment, k) <= notAfter) log[k - windows.from] = sum;
  }
  return withPrior(
    log,
    firstWindow + windows.from + 1,
    alignment.heard.samples.length,
    alignment.heard.samples.length,
  );
}

/** The boundary next to `likely` gets the chance of a whole play, the others share the rest. */
function withPrior(log: Float64Array, first: number, likely: number, length: number): Chances {
  const most = log.reduce((a, b) => Math.max(a, b), -Infinity);
  const all = length / HOP_SAMPLES;
  const chances = log.map((value) => (Math.exp(value - most) * (1 - WHOLE)) / all);
  const place = Math.min(log.length - 1, Math.max(0, Math.round(likely / HOP_SAMPLES) - first));
  if (Math.abs((first + place) * HOP_SAMPLES - likely) <= HOP_SAMPLES) {
    chances[place] = (chances[place] as number) + WHOLE * Math.exp((log[place] as number) - most);
  }
  return { first, chances: normal(chances) };
}

function normal(chances: Float64Array): Float64Array {
  const sum = chances.reduce((a, b) => a + b, 0);
  return chances.map((chance) => chance / sum);
}

/** If it is likelier than not that the second play goes on where the first one stopped, both are where both can be. */
function goOn(stop: Chances, start: Chances): void {
  const both = stop.chances.map((chance, i) => chance * (start.chances[stop.first + i - start.first] ?? 0));
  const together = both.reduce((a, b) => a + b, 0);
  const all = stop.chances.length;
  const odds = (GOES_ON * together * all) / (1 - GOES_ON);
  if (odds < 1 || together === 0) return;
  stop.chances = normal(both);
  start.chances = start.chances.map((_, i) => stop.chances[start.first + i - stop.first] ?? 0);
}

/** A boundary before window k lies half a hop before that window's middle. */
function endOf({ first, chances }: Chances, likely: number, length: number): End {
  const sampleOf = (i: number) => Math.min(length, Math.max(0, (first + i - 0.5) * HOP_SAMPLES));
  const quantile = (share: number) => {
    let sum = 0;
    const i = chances.findIndex((chance) => {
      sum += chance;
      return sum >= share;
    });
    return i < 0 ? chances.length - 1 : i;
  };
  const middle = quantile(0.5);
  const atLikely = Math.abs((first + middle) * HOP_SAMPLES - likely) <= HOP_SAMPLES;
  const at = atLikely ? likely : sampleOf(middle);
  return {
    at,
    earliest: Math.min(at, sampleOf(quantile(TAIL))),
    latest: Math.max(at, sampleOf(quantile(1 - TAIL))),
  };
}
