import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import { stepOf } from '../../statements/split.ts';
import { commonWeight, mostInCommon, type Sketch } from './join.ts';

const BACK_STEPS = [1, 2, 4, 8];
const WORD_STEPS = [0.01, 0.6, 1.2, 2, 3];

/** What speaks for a taking back being about a point. `best`: no point shares more words or parts with it. */
export function takeBackFeatures(taken: Sketch, point: Sketch, back: number, best: boolean): Features {
  const common = commonWeight(taken.words, point.words);
  const shared = [...taken.parts].some((part) => point.parts.has(part));
  const fault = taken.evidence.hits.some(
    (hit) => hit.lexicon.startsWith('issues/') && hit.means === point.judgement.issue[0]?.value,
  );
  return [
    'always',
    `back:${stepOf(back, BACK_STEPS)}`,
    `words:${stepOf(common, WORD_STEPS)}`,
    `parts:${taken.parts.size === 0 ? 'none' : shared ? 'shared' : 'different'}`,
    `fault:${fault}`,
    `strength:${point.judgement.strength[0]?.value}`,
    `basis:${point.judgement.basis[0]?.value}`,
    `role:${point.role}`,
    ...(best ? ['best', `best:words:${stepOf(common, WORD_STEPS)}`] : []),
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
  const most = mostInCommon(taken, points);
  let found: { index: number; likely: number } | null = null;
  points.forEach((point, index) => {
    if (point.role !== 'fix') return;
    const best = commonWeight(taken.words, point.words) >= most && most > 0;
    const features = takeBackFeatures(taken, point, points.length - 1 - index, best);
    const likely = model ? (classify(model, features).get('meant') ?? 0) : 0;
    if (!found || likely > found.likely) found = { index, likely };
  });
  return found;
}
