import type { ChainModel, Features } from '../../language/chain-model.ts';
import { chances } from '../../language/choice.ts';
import type { Evidence } from '../evidence.ts';
import type { Judgement } from '../finders/judge.ts';

/** Shot frames that were said, and how sure it is that they are frames. */
export interface KnownFrames {
  readonly frames: readonly [first: number, last: number];
  readonly confidence: number;
}

/** What is known of a mention, or of all mentions of a point so far, for telling whether two are about the same. */
export interface Sketch {
  readonly role: 'fix' | 'keep';
  readonly evidence: Evidence;
  readonly judgement: Judgement;
  readonly parts: ReadonlySet<string>;
  readonly sides: ReadonlySet<string>;
  readonly character: string | null;
  readonly frames: KnownFrames | null;
  /** Rare words said, each with how much it tells, 0 to 1. */
  readonly words: ReadonlyMap<string, number>;
  /** Those among its first words: what a speaker comes back to is named at once, "The hat. You know, it's better stiff." */
  readonly leading: ReadonlySet<string>;
  readonly summing: boolean;
  /** Said in the last part of the talk, where points are come back to. */
  readonly late: boolean;
  readonly mentions: number;
}

/** Points further back than this are not come back to; it bounds the work on recordings of many hours. */
const LONGEST_MEMORY = 150;

/** How an earlier point stands to some new talk, among all the points that the talk may be about. */
export interface Standing {
  /** How many points were first made after it; 0 for the newest. */
  readonly back: number;
  /** What the words tell that it shares with the new talk, in units of one word that tells all it can. */
  readonly common: number;
  /** Whether no other point shares more. */
  readonly best: boolean;
  /** The same with each word shared out among the points that hold it: what tells this point from the others. */
  readonly own: number;
  /** The same of its first words alone. */
  readonly named: number;
  /** Whether no other point has more of its own. */
  readonly ownBest: boolean;
  /** Whether it is the point that was talked of last. */
  readonly latest: boolean;
}

/** Every point that new talk may be about, with how it stands to it; `may` leaves out those that it cannot be about. */
export function standingsOf(
  fresh: Sketch,
  points: readonly Sketch[],
  may: (point: Sketch) => boolean,
): { index: number; point: Sketch; standing: Standing }[] {
  const oldest = Math.max(0, points.length - LONGEST_MEMORY);
  const open = points
    .map((point, index) => ({ point, index }))
    .filter(({ point, index }) => index >= oldest && may(point));
  const holders = new Map<string, number>();
  for (const { point } of open) {
    for (const word of fresh.words.keys())
      if (point.words.has(word)) holders.set(word, (holders.get(word) ?? 0) + 1);
  }
  const found = open.map(({ point, index }) => {
    let common = 0;
    let own = 0;
    let named = 0;
    for (const [word, weight] of fresh.words) {
      if (!point.words.has(word)) continue;
      common += weight;
      own += weight / (holders.get(word) ?? 1);
      if (fresh.leading.has(word)) named += weight / (holders.get(word) ?? 1);
    }
    return { point, index, common, own, named, spokenUntil: point.evidence.ranges.at(-1)?.last ?? 0 };
  });
  const most = Math.max(0, ...found.map(({ common }) => common));
  const mostOwn = Math.max(0, ...found.map(({ own }) => own));
  const last = Math.max(0, ...found.map(({ spokenUntil }) => spokenUntil));
  return found.map(({ point, index, common, own, named, spokenUntil }) => ({
    index,
    point,
    standing: {
      back: points.length - 1 - index,
      common,
      best: common > 0 && common >= most,
      own,
      named,
      ownBest: own > 0 && own >= mostOwn,
      latest: spokenUntil >= last,
    },
  }));
}

/** How much some words tell in all. */
export function weightOf(words: ReadonlyMap<string, number>): number {
  return [...words.values()].reduce((sum, weight) => sum + weight, 0);
}

/** The likeliest point of some alternatives; null where none is as likely as that no point is meant (index null) `times` over. */
export function likeliestOf(
  model: ChainModel,
  alternatives: readonly { index: number | null; features: Features }[],
  times = 1,
): { index: number; likely: number } | null {
  const likely = chances(
    model,
    alternatives.map((one) => one.features),
  );
  let found: { index: number; likely: number } | null = null;
  let none = 0;
  alternatives.forEach(({ index }, i) => {
    const chance = likely[i] ?? 0;
    if (index === null) none = chance;
    else if (!found || chance > found.likely) found = { index, likely: chance };
  });
  const best = found as { index: number; likely: number } | null;
  return best && best.likely >= none * times ? best : null;
}
