import { describe, expect, it } from 'vitest';
import { alignNotes, iouOf, statementAt } from '../../src/measure/align.ts';
import type { Note } from '../../src/notes/note.ts';
import { A, answerWith, B, C, D, noteOf } from './hand-made.ts';

/** Which note answers which gold note, by ids. */
function pairs(...notes: readonly Note[]): Record<string, string> {
  const { noteOf: answers } = alignNotes(answerWith(...notes));
  return Object.fromEntries([...answers].map(([gold, note]) => [gold.id, note.id]));
}

describe('gold notes and notes', () => {
  it('are paired by the time they share', () => {
    expect(pairs(D, C, B, A)).toEqual({ n1: 'a', n2: 'b', n3: 'c', n4: 'd' });
  });

  it('that are one note split in two: the larger half answers, the other does not', () => {
    expect(pairs(noteOf('half', 1, [7]), noteOf('most', 2, [0, 1]))).toEqual({ n1: 'most' });
  });

  it('that were two and are joined: the note answers the one it shares most with', () => {
    expect(pairs(noteOf('both', 1, [0, 1, 2, 7]))).toEqual({ n1: 'both' });
  });

  it('that share less than a fifth of their union are not paired', () => {
    // n2 is second 2 alone: one of five seconds is 0.2, one of six is less.
    expect(pairs(noteOf('five', 1, [2, 10, 11, 12, 13]))).toEqual({ n2: 'five' });
    expect(pairs(noteOf('six', 1, [2, 10, 11, 12, 13, 14]))).toEqual({});
  });

  it('the taking back is no part of the note that is taken back', () => {
    const n4 = alignNotes(answerWith()).gold.find(({ id }) => id === 'n4');
    expect(n4?.spans).toEqual([{ start: 5, end: 6 }]);
    expect(pairs(noteOf('drop', 1, [6]))).toEqual({});
  });
});

it('spans share their intersection over their union', () => {
  expect(iouOf([{ start: 0, end: 4 }], [{ start: 3, end: 6 }])).toBeCloseTo(1 / 6);
  expect(iouOf([], [])).toBe(0);
});

it('a segment is what the statement that shares most of it is, the earlier of equals', () => {
  const { statements } = answerWith();
  expect(statementAt(statements, { start: 0.6, end: 2.1 })?.id).toBe('s2');
  expect(statementAt(statements, { start: 2.5, end: 3.5 })?.id).toBe('s3');
  expect(statementAt(statements, { start: 20, end: 21 })).toBeNull();
});
