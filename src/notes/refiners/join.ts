import type { Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
import type { Judgement } from '../finders/judge.ts';
import {
  type KnownFrames,
  likeliestOf,
  type Sketch,
  type Standing,
  standingsOf,
  weightOf,
} from './sketch.ts';

/** Frames no further apart than this are the same place. */
const NEAR_FRAMES = 2;
/** Lexicons whose words tell whether talk moves on or comes back. */
const TELLING: ReadonlySet<string> = new Set(['topic', 'roles', 'order', 'pointing']);
/**
 * A point is taken as come back to from this share on of how likely a new one is: a note that is listed twice is a worse
 * fault than two that were joined and are quoted both.
 */
const COME_BACK_FROM = 0.5;
const TOLD_STEPS = [0.5, 1.5, 3, 6];
const OPENING_STEPS = [0.1, 0.35, 0.65, 0.9];
const OPEN_STEPS = [1, 3, 6, 12];
const WORD_STEPS = [0.01, 0.6, 1.2, 2, 3, 4.5];
const SHARE_STEPS = [0.01, 0.1, 0.2, 0.35, 0.5, 0.7];
const ISSUE_STEPS = [0.03, 0.1, 0.25, 0.5];
const BACK_STEPS = [1, 2, 4, 8];

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
  const parts = relation(fresh.parts, point.parts);
  const fault = stepOf(sameFault(fresh.judgement, point.judgement), ISSUE_STEPS);
  const frames = framesRelation(fresh.frames, point.frames);
  const short =
    fresh.evidence.ranges.length <= 1 ? 'short' : fresh.evidence.ranges.length <= 3 ? 'middling' : 'long';
  return [
    'always',
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
  ];
}

/** What speaks for a mention making a point of its own. */
function newFeatures(fresh: Sketch, open: number): Features {
  const { statements, ranges, hits } = fresh.evidence;
  const told = stepOf(weightOf(fresh.words), TOLD_STEPS);
  const opening = stepOf(statements.find((one) => one.role === fresh.role)?.opening ?? 0, OPENING_STEPS);
  return [
    'new',
    `new:role:${fresh.role}`,
    `new:told:${told}`,
    `new:statements:${Math.min(ranges.length, 4)}`,
    `new:parts:${fresh.parts.size > 0}`,
    `new:frames:${fresh.frames !== null}`,
    `new:opening:${opening}`,
    `new:open:${stepOf(open, OPEN_STEPS)}`,
    ...(fresh.late ? ['new:late', `new:late:told:${told}`] : []),
    ...(fresh.summing ? ['new:summing', `new:summing:told:${told}`] : []),
    ...new Set(
      hits.filter((hit) => TELLING.has(hit.lexicon)).map((hit) => `new:${hit.lexicon}:${hit.means}`),
    ),
  ];
}

/** Whatever a mention may be: a point of its own (index null), or each earlier point come back to. */
export function joinAlternatives(
  fresh: Sketch,
  points: readonly Sketch[],
): { index: number | null; features: Features }[] {
  const open = standingsOf(fresh, points, (one) => one.role === fresh.role);
  return [
    { index: null, features: newFeatures(fresh, open.length) },
    ...open.map(({ index, point, standing }) => ({ index, features: joinFeatures(fresh, point, standing) })),
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
  return likeliestOf(model, joinAlternatives(fresh, points), COME_BACK_FROM);
}
