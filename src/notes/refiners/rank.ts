import type { Evidence } from '../evidence.ts';
import type { Judgement } from '../finders/judge.ts';

/** What a note of each weight is worth to whoever works through the list from the top. */
const WORTH: Readonly<Record<string, number>> = { 1: 3, 2: 1, 3: 0 };
/** Scores are shown out of ten. */
const FULL_SCORE = 10;

/** Score 0 to 10 by which fixes are put in order, and the reasons in plain words, weightiest first. */
export function priorityOf(
  judgement: Judgement,
  evidence: Evidence,
  mentions: number,
  summing: boolean,
): { score: number; reasons: string[] } {
  let worth = 0;
  for (const [tier, probability] of judgement.tier) worth += (WORTH[tier] ?? 0) * probability;
  const said = (lexicon: string, means: string): boolean =>
    evidence.hits.some((hit) => hit.lexicon === lexicon && hit.means === means);
  const optional = judgement.strength[0]?.value === 'could';
  const reasons = [
    ...(said('order', 'first') ? ['called the main thing'] : []),
    ...(said('order', 'second') ? ['named second'] : []),
    ...(said('order', 'third') ? ['named third'] : []),
    ...(mentions === 2 ? ['said twice'] : mentions > 2 ? [`said ${mentions} times`] : []),
    ...(summing ? ['named again in the summing-up'] : []),
    ...(judgement.strength[0]?.value === 'must' ? ['has to be done'] : []),
    ...(judgement.basis[0]?.value === 'technical' ? ['technical'] : ['a matter of taste']),
    ...(optional ? ['optional'] : []),
    ...(optional && said('order', 'last') ? ['put last by the mentor'] : []),
  ];
  return { score: Math.round((worth / 3) * FULL_SCORE * 10) / 10, reasons };
}
