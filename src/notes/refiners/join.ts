import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
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
  readonly summing: boolean;
  readonly mentions: number;
}

/** Points further back than this are not come back to; it bounds the work on recordings of many hours. */
const LONGEST_MEMORY = 150;
/** Frames no further apart than this are the same place. */
const NEAR_FRAMES = 2;
const WORD_STEPS = [0.01, 0.6, 1.2, 2, 3, 4.5];
const SHARE_STEPS = [0.01, 0.1, 0.2, 0.35, 0.5, 0.7];
const ISSUE_STEPS = [0.03, 0.1, 0.25, 0.5];
const BACK_STEPS = [1, 2, 4, 8];

function weightOf(words: ReadonlyMap<string, number>): number {
  return [...words.values()].reduce((sum, weight) => sum + weight, 0);
}

/** The sum of what two sketches' common words tell. */
export function commonWeight(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let sum = 0;
  for (const [word, weight] of a) if (b.has(word)) sum += weight;
  return sum;
}

/** The probability that two judgements name the same fault. */
function sameFault(a: Judgement, b: Judgement): number {
  return a.issue.reduce(
    (sum, { value, probability }) =>
      sum + probability * (b.issue.find((other) => other.value === value)?.probability ?? 0),
    0,
  );
}

function relation(a: ReadonlySet<string>, b: ReadonlySet<string>): string {
  if (a.size === 0 || b.size === 0)
    return a.size === b.size ? 'neither' : a.size === 0 ? 'new-none' : 'old-none';
  return [...a].some((item) => b.has(item)) ? 'shared' : 'different';
}

function framesRelation(fresh: KnownFrames | null, known: KnownFrames | null): string {
  if (!fresh) return 'none';
  if (!known) return 'new-only';
  const [a, b] = [fresh.frames, known.frames];
  return a[0] <= b[1] + NEAR_FRAMES && b[0] <= a[1] + NEAR_FRAMES ? 'meet' : 'apart';
}

/** The most that the words of some talk have in common with any of these points. */
export function mostInCommon(fresh: Sketch, points: readonly Sketch[]): number {
  return Math.max(0, ...points.map((point) => commonWeight(fresh.words, point.words)));
}

/**
 * What speaks for a new mention being about an earlier point. `back` is how many points lie between (0 for the one
 * just talked about), `best` whether no earlier point shares more words with it.
 */
export function joinFeatures(fresh: Sketch, point: Sketch, back: number, best: boolean): Features {
  const common = commonWeight(fresh.words, point.words);
  const share = common / Math.max(0.5, weightOf(fresh.words));
  const cues = new Set(
    fresh.evidence.hits
      .filter((hit) => ['topic', 'roles', 'order', 'pointing'].includes(hit.lexicon))
      .map((hit) => `${hit.lexicon}:${hit.means}`),
  );
  const parts = relation(fresh.parts, point.parts);
  const fault = stepOf(sameFault(fresh.judgement, point.judgement), ISSUE_STEPS);
  const frames = framesRelation(fresh.frames, point.frames);
  const short =
    fresh.evidence.ranges.length <= 1 ? 'short' : fresh.evidence.ranges.length <= 3 ? 'middling' : 'long';
  return [
    'always',
    `role:${fresh.role}`,
    `parts:${parts}`,
    `fault:${fault}`,
    `parts:${parts}:fault:${fault}`,
    `words:${stepOf(common, WORD_STEPS)}`,
    `share:${stepOf(share, SHARE_STEPS)}`,
    `frames:${frames}`,
    `sides:${relation(fresh.sides, point.sides)}`,
    `length:${short}`,
    `length:${short}:parts:${parts}`,
    `back:${stepOf(back, BACK_STEPS)}`,
    `mentions:${Math.min(point.mentions, 3)}`,
    ...(fresh.character !== null && point.character !== null
      ? [`character:${fresh.character === point.character}`]
      : []),
    ...(best && common > 0
      ? ['best', `best:parts:${parts}`, `best:share:${stepOf(share, SHARE_STEPS)}`]
      : []),
    ...(fresh.summing
      ? [
          'summing',
          `summing:parts:${parts}`,
          `summing:fault:${fault}`,
          `summing:${best && common > 0 ? 'best' : 'other'}`,
        ]
      : []),
    ...[...cues].map((cue) => `cue:${cue}`),
  ];
}

/** The earlier point that a mention is about and how sure that is, or null where it opens a point of its own. */
export function findEarlier(
  fresh: Sketch,
  points: readonly Sketch[],
  language: Language,
): { index: number; likely: number } | null {
  const model = language.models.get('join');
  if (!model) return null;
  const most = mostInCommon(
    fresh,
    points.filter((point) => point.role === fresh.role),
  );
  let found: { index: number; likely: number } | null = null;
  points.forEach((point, index) => {
    if (point.role !== fresh.role || points.length - index > LONGEST_MEMORY) return;
    const best = commonWeight(fresh.words, point.words) >= most;
    const likely =
      classify(model, joinFeatures(fresh, point, points.length - 1 - index, best)).get('same') ?? 0;
    if (likely >= 0.5 && (!found || likely > found.likely)) found = { index, likely };
  });
  return found;
}
