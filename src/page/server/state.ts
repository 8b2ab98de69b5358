import { sharedSeconds } from '../../basics/shared-seconds.ts';
import type { Decision } from '../../corrections/corrections.ts';
import { standing } from '../../corrections/decisions.ts';
import { describeDecision } from '../../corrections/describe.ts';
import type { CheckState } from '../check-api.ts';
import { queueOf, type Standing } from '../session.ts';

/** What the page is told. The machine's own reading stays here: the page needs what stands. */
export function stateOf({ sheet, decisions, revision, unfit }: Standing, silent: string | null): CheckState {
  return {
    sheet: { ...sheet, uncorrected: undefined },
    queue: queueOf(sheet.notes).map(({ id }) => id),
    decisions,
    revision,
    unfit: unfit.map(({ decision, why }) => `${describeDecision(decision)}: ${why}.`),
    silent,
  };
}

/** What others decided, in words, that bears on the same notes or words as some decisions of one's own. */
export function meanwhileOf(others: readonly Decision[], own: readonly Decision[]): string[] {
  return standing(others)
    .filter((other) => own.some((one) => sharedSeconds(spansOf(other), spansOf(one)) > 0))
    .map(describeDecision);
}

function spansOf(decision: Decision): readonly { start: number; end: number }[] {
  switch (decision.do) {
    case 'undo':
      return [];
    case 'word':
      return [decision.word];
    case 'add':
      return [decision.words];
    case 'join':
      return [...decision.note.spans, ...decision.with.spans];
    default:
      return decision.note.spans;
  }
}
