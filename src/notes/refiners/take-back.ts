import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
import { type Sketch, type Standing, standingsOf } from './sketch.ts';

const BACK_STEPS = [1, 2, 4, 8];
const WORD_STEPS = [0.01, 0.4, 0.9, 1.4, 2, 3];
/** What the words of a taking back tell in all: "no, strike that" tells nothing of what is meant, "the hat, leave it" does. */
const TOLD_STEPS = [0.5, 1.5, 3, 6];
/** Words between a point and what takes it back: said at once, after an interruption, or much later. */
const GAP_STEPS = [1, 15, 60];
/** How many statements make a point: what is dwelt on is seldom taken back. */
const SIZE_STEPS = [2, 3, 5, 7];

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
  const told = stepOf(
    [...taken.words.values()].reduce((sum, weight) => sum + weight, 0),
    TOLD_STEPS,
  );
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

/** The point that is taken back and how sure that is, or null where there is none. Only fixes can be taken back. */
export function findTakenBack(
  taken: Sketch,
  points: readonly Sketch[],
  language: Language,
): { index: number; likely: number } | null {
  const model = language.models.get('take-back');
  if (!model) return null;
  let found: { index: number; likely: number } | null = null;
  for (const { index, point, standing } of standingsOf(taken, points, (one) => one.role === 'fix')) {
    const likely = classify(model, takeBackFeatures(taken, point, standing)).get('meant') ?? 0;
    if (!found || likely > found.likely) found = { index, likely };
  }
  return found;
}
