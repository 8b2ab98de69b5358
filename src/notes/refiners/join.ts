import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
import type { Judgement } from '../finders/judge.ts';
import { type KnownFrames, type Sketch, type Standing, standingsOf } from './sketch.ts';

/** Frames no further apart than this are the same place. */
const NEAR_FRAMES = 2;
/** A summing-up seldom says anything new: there a point is come back to from this probability on. */
const SUMMED = 0.15;
/** The same of the last part of a talk that is not called one. */
const LATE = 0.25;
const WORD_STEPS = [0.01, 0.6, 1.2, 2, 3, 4.5];
const SHARE_STEPS = [0.01, 0.1, 0.2, 0.35, 0.5, 0.7];
const ISSUE_STEPS = [0.03, 0.1, 0.25, 0.5];
const BACK_STEPS = [1, 2, 4, 8];

function weightOf(words: ReadonlyMap<string, number>): number {
  return [...words.values()].reduce((sum, weight) => sum + weight, 0);
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

/** What speaks for a new mention being about an earlier point. */
export function joinFeatures(
  fresh: Sketch,
  point: Sketch,
  { back, common, best, own, named, latest }: Standing,
): Features {
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
    `own:${stepOf(own, WORD_STEPS)}`,
    `named:${stepOf(named, WORD_STEPS)}`,
    `latest:${latest}`,
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
    ...(best ? ['best', `best:parts:${parts}`, `best:share:${stepOf(share, SHARE_STEPS)}`] : []),
    ...(fresh.summing
      ? ['summing', `summing:parts:${parts}`, `summing:fault:${fault}`, `summing:${best ? 'best' : 'other'}`]
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
  let found: { index: number; likely: number } | null = null;
  for (const { index, point, standing } of standingsOf(fresh, points, (one) => one.role === fresh.role)) {
    const likely = classify(model, joinFeatures(fresh, point, standing)).get('same') ?? 0;
    if (likely >= (fresh.summing ? SUMMED : fresh.late ? LATE : 0.5) && (!found || likely > found.likely))
      found = { index, likely };
  }
  return found;
}
