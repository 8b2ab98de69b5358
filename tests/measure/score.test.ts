import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/measure/align.ts';
import { measureAnswer, measurementOf } from '../../src/measure/measure.ts';
import type { Figures } from '../../src/measure/score.ts';
import { A, answerWith, B, C, D, E, noteOf } from './hand-made.ts';

function figures(...answers: readonly Answer[]): Figures {
  return measurementOf(answers.map(measureAnswer), 5).inAll;
}

describe('a critique scored by hand', () => {
  it('has these figures', () => {
    const { roles, ...all } = figures(answerWith(A, B, C, D, E));
    expect(roles).toEqual({ fix: expect.closeTo(8 / 9), keep: 1, why: 0, aside: 1, shot: null, drop: 1 });
    expect(all).toEqual({
      notePrecision: 3 / 4,
      noteRecall: 1,
      noteF: expect.closeTo(6 / 7),
      roleMacroF: expect.closeTo((8 / 9 + 1 + 0 + 1 + 1) / 5),
      noteRole: 2 / 3,
      character: 2 / 3,
      bodyF: 3 / 4,
      side: 1,
      issueTop1: 1 / 2,
      issueTop3: 1,
      basisKappa: 0,
      strengthKappa: 1,
      framesRecall: 1,
      framesPrecision: 1 / 2,
      amountRecall: 0,
      amountPrecision: 0,
      options: 1,
      withdrawnHandled: 1,
      withdrawnFalse: 0,
      // e, of nothing, is first, and a, of the main thing, second; b is called a keep. At best: main thing, then b.
      ndcg10: expect.closeTo(3 / Math.log2(3) / (3 + 1 / Math.log2(3))),
      // Of 15 claims, each 0.8 sure, 10 are right.
      calibrationError: expect.closeTo(0.8 - 10 / 15),
      flaggedShare: 1 / 3,
      errorsCaught: 1 / 2,
    });
  });

  it('twice over has the same figures', () => {
    const once = figures(answerWith(A, B, C, D, E));
    expect(figures(answerWith(A, B, C, D, E), answerWith(A, B, C, D, E))).toEqual({
      ...once,
      calibrationError: expect.closeTo(once.calibrationError ?? 0),
    });
  });

  it('without notes has no tags to judge', () => {
    expect(figures(answerWith())).toMatchObject({
      notePrecision: null,
      noteRecall: 0,
      noteF: 0,
      issueTop1: null,
      basisKappa: null,
      withdrawnHandled: 1,
      ndcg10: 0,
      calibrationError: null,
    });
  });
});

describe('figures of many critiques', () => {
  it('count notes together and average rankings', () => {
    const [full, none] = [answerWith(A, B, C, D, E), answerWith()];
    expect(figures(full, none)).toMatchObject({ noteRecall: 3 / 6, notePrecision: 3 / 4 });
    expect(figures(full, none).ndcg10).toBeCloseTo((figures(full).ndcg10 ?? 0) / 2);
  });
});

describe('a note split in two', () => {
  it('costs precision once', () => {
    const halves = [{ ...A, spans: A.spans.slice(0, 2) }, noteOf('a2', 6, [7])];
    expect(figures(answerWith(...halves, B, C, D, E))).toMatchObject({ notePrecision: 3 / 5, noteRecall: 1 });
  });
});

describe('takings back', () => {
  it('that were missed count against takings back, and not as a note too many', () => {
    const all = figures(answerWith(A, B, C, { ...D, withdrawn: false }, E));
    expect(all).toMatchObject({ withdrawnHandled: 0, notePrecision: 3 / 4 });
  });

  it('are honoured where nothing was made of the note at all', () => {
    expect(figures(answerWith(A, B, C, E)).withdrawnHandled).toBe(1);
  });

  it('of a live note lose it', () => {
    const all = figures(answerWith({ ...A, withdrawn: true }, B, C, D, E));
    expect(all).toMatchObject({ withdrawnFalse: 1, noteRecall: 2 / 3, notePrecision: 2 / 3, ndcg10: 0 });
  });
});

describe('frames', () => {
  const frames = { first: 10, last: 14, source: 'spoken', confidence: 1 } as const;
  it.each<[string, Partial<Figures>, typeof A.frames]>([
    ['that are two off are wrong', { framesRecall: 0, framesPrecision: 0 }, { ...frames, last: 16 }],
    [
      'that were not said are not heard',
      { framesRecall: 0, framesPrecision: null },
      { ...frames, source: 'playback' },
    ],
    ['that are missing are not heard', { framesRecall: 0, framesPrecision: null }, null],
  ])('%s', (_, wanted, given) => {
    expect(figures(answerWith({ ...A, frames: given }))).toMatchObject(wanted);
  });
});
