import type { Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
import { likeliestOf, type Sketch, type Standing, standingsOf, weightOf } from './sketch.ts';

const BACK_STEPS = [1, 2, 4, 8];
const WORD_STEPS = [0.01, 0.4, 0.9, 1.4, 2, 3];
/** What the words of a taking back tell in all: "no, strike that" tells nothing of what is meant, "the hat, leave it" does. */
const TOLD_STEPS = [0.5, 1.5, 3, 6];
/** Words between a point and what takes it back: said at once, after an interruption, or much later. */
const GAP_STEPS = [1, 15, 60];
/** How many statements make a point: what is dwelt on is seldom taken back. */
const SIZE_STEPS = [2, 3, 5, 7];
/** How sure it is that something is taken back at all. */
const SURE_STEPS = [0.4, 0.6, 0.8, 0.95];
/** Lexicons whose words tell whether anything is taken back. */
const TELLING: ReadonlySet<string> = new Set(['roles', 'repairs', 'topic', 'order', 'pointing']);

/** What speaks for a taking back being about a point. */
export function takeBackFeatures(
  taken: Sketch,
  point: Sketch,
  { back, best, own, named, ownBest, latest }: Standing,
): Features {
  const shared = [...taken.parts].some((part) => point.parts.has(part));
  const fault = taken.evidence.hits.some(
    (hit) => hit.lexicon.startsWith('issues/') && hit.means === point.judgement.issue[0]?.value,
  );
  const told = stepOf(weightOf(taken.words), TOLD_STEPS);
  const gap = stepOf(
    (taken.evidence.ranges[0]?.first ?? 0) - (point.evidence.ranges.at(-1)?.last ?? 0) - 1,
    GAP_STEPS,
  );
  const parts = taken.parts.size === 0 ? 'none' : shared ? 'shared' : 'different';
  return [
    'always',
    `back:${stepOf(back, BACK_STEPS)}`,
    `own:${stepOf(own, WORD_STEPS)}`,
    `named:${stepOf(named, WORD_STEPS)}`,
    `parts:${parts}`,
    `fault:${fault}`,
    `size:${stepOf(point.evidence.ranges.length, SIZE_STEPS)}`,
    `mentions:${Math.min(point.mentions, 3)}`,
    `strength:${point.judgement.strength[0]?.value}`,
    `basis:${point.judgement.basis[0]?.value}`,
    ...(latest
      ? ['latest', `latest:gap:${gap}`, `latest:told:${told}`, `latest:own:${stepOf(own, WORD_STEPS)}`]
      : ['not-latest', `not-latest:told:${told}`]),
    ...(best ? ['best'] : []),
    ...(ownBest ? ['own-best', `own-best:own:${stepOf(own, WORD_STEPS)}`, `own-best:parts:${parts}`] : []),
    ...(point.evidence.hits.some((hit) => hit.lexicon === 'repairs' && hit.means === 'hesitates')
      ? ['hesitated']
      : []),
  ];
}

/** What speaks for words that sound like a taking back meaning none of the points: they may be no taking back at all. */
function noneFeatures(taken: Sketch): Features {
  const { statements, hits, ranges } = taken.evidence;
  const sure = Math.max(...statements.map((one) => one.confidence));
  const told = stepOf(weightOf(taken.words), TOLD_STEPS);
  return [
    'none',
    `none:sure:${stepOf(sure, SURE_STEPS)}`,
    `none:told:${told}`,
    `none:statements:${Math.min(ranges.length, 3)}`,
    `none:parts:${taken.parts.size > 0}`,
    ...(taken.late ? ['none:late'] : []),
    ...new Set(
      hits.filter((hit) => TELLING.has(hit.lexicon)).map((hit) => `none:${hit.lexicon}:${hit.means}`),
    ),
  ];
}

/** Whatever a taking back may mean: each point with what speaks for it, and that none is meant (index null). */
export function takeBackAlternatives(
  taken: Sketch,
  points: readonly Sketch[],
): { index: number | null; features: Features }[] {
  const open = standingsOf(taken, points, (one) => one.role === 'fix');
  return [
    { index: null, features: noneFeatures(taken) },
    ...open.map(({ index, point, standing }) => ({
      index,
      features: takeBackFeatures(taken, point, standing),
    })),
  ];
}

/** The point that is taken back and how likely that is, or null where none is likelier than that nothing is. Only fixes can be taken back. */
export function findTakenBack(
  taken: Sketch,
  points: readonly Sketch[],
  language: Language,
): { index: number; likely: number } | null {
  const model = language.models.get('take-back');
  if (!model) return null;
  return likeliestOf(model, takeBackAlternatives(taken, points));
}
