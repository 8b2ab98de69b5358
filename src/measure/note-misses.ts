import type { Span } from '../basics/span.ts';
import { type Alignment, type Answer, iouOf, statementAt } from './align.ts';
import { describeGold, describeNote } from './describe.ts';
import { type Miss, weightOfTier } from './miss.ts';

/** Live gold notes that no live note answers: how their words were heard, and the note that comes nearest. */
export function lostNotes({ critique, statements, notes }: Answer, { gold, noteOf }: Alignment): Miss[] {
  return gold.flatMap((one): Miss[] => {
    const answer = noteOf.get(one);
    if (one.label.withdrawn || (answer && !answer.withdrawn)) return [];
    const heard = one.spans.map((span) => statementAt(statements, span)?.role ?? 'nothing').join(', ');
    const miss = answer
      ? `taken for taken back: ${describeNote(answer)}`
      : nearestText(notes, one.spans, describeNote);
    return [
      {
        critique: critique.name,
        goldNote: one.id,
        note: answer?.id ?? null,
        gold: describeGold(one.label),
        got: `heard as ${heard}; ${miss}`,
        words: one.words,
        weight: weightOfTier(one.label.tier),
      },
    ];
  });
}

/** Live notes that answer no gold note, or one that was taken back. The higher ranked weigh more. */
export function inventedNotes({ critique, notes }: Answer, { gold, goldOf }: Alignment): Miss[] {
  return notes.flatMap((note): Miss[] => {
    const answered = goldOf.get(note);
    if (note.withdrawn || (answered && !answered.label.withdrawn)) return [];
    return [
      {
        critique: critique.name,
        goldNote: answered?.id ?? null,
        note: note.id,
        gold: answered
          ? `taken back: ${answered.id}, ${describeGold(answered.label)}`
          : nearestText(gold, note.spans, ({ id, label }) => `${id}, ${describeGold(label)}`),
        got: describeNote(note),
        words: note.spans.map(({ text }) => text).join(' '),
        weight: -note.rank,
      },
    ];
  });
}

/** The one that shares most spoken time, and how much of the time of both it shares. */
function nearestText<T extends { readonly spans: readonly Span[] }>(
  ones: readonly T[],
  spans: readonly Span[],
  describe: (one: T) => string,
): string {
  const [near] = ones.map((one) => ({ one, iou: iouOf(one.spans, spans) })).sort((a, b) => b.iou - a.iou);
  if (!near || near.iou === 0) return 'nothing near';
  return `nearest: ${describe(near.one)}, shares ${near.iou.toFixed(2)}`;
}
