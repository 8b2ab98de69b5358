import type { TokenRange } from '../language/talk.ts';
import { findDialogue } from '../statements/dialogue.ts';
import { statementFeatures } from '../statements/statement-features.ts';
import type { LabelledSequence } from './fit-chain.ts';
import type { Prepared } from './prepare.ts';
import { turnLabels } from './turn-labels.ts';

/** The turns of a critique as one labelled sequence, on its own segments. */
export function turnSequence({ critique, talk, ranges, shot }: Prepared): LabelledSequence {
  const lines = findDialogue(talk.tokens, shot.dialogue);
  return { items: statementFeatures(talk, ranges, lines), labels: turnLabels(critique) };
}

/** The turns of a critique on stretches that a splitter made: each takes the label of the segment it shares most with. */
export function turnSequenceOn(
  { critique, talk, ranges, shot }: Prepared,
  stretches: readonly TokenRange[],
): LabelledSequence {
  const lines = findDialogue(talk.tokens, shot.dialogue);
  const labels = turnLabels(critique);
  let seen = -1;
  const own = stretches.map((stretch) => {
    let best = 0;
    let most = 0;
    ranges.forEach((range, i) => {
      const common = Math.min(range.last, stretch.last) - Math.max(range.first, stretch.first) + 1;
      if (common > most) [most, best] = [common, i];
    });
    const label = labels[best] ?? 'aside';
    const again = best === seen;
    seen = best;
    return again ? label.replace('+', '') : label;
  });
  return { items: statementFeatures(talk, stretches, lines), labels: own };
}
