import { describe, expect, it } from 'vitest';
import { WebVTTParser } from 'webvtt-parser';
import type { Note } from '../../../src/notes/note.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { writeChapters } from '../../../src/sheet/writers/chapters.ts';
import { savedSheet } from '../saved-sheet.ts';

function withSpans(...lists: [start: number, end: number][][]): Sheet {
  const [note] = savedSheet().notes;
  if (!note) throw new Error('the saved sheet has no note');
  const notes = lists.map((spans, i): Note => {
    const quotes = spans.map(([start, end]) => ({ start, end, text: 'there' }));
    return {
      ...note,
      id: `n${i + 1}`,
      rank: i + 1,
      title: `Note <${i + 1}> & --> more\nof it`,
      spans: quotes,
    };
  });
  return { ...savedSheet(), notes };
}

describe('chapters over the recording', () => {
  // The reference parser checks the rules of WebVTT for chapters: cues in order, and none that overlaps another in part.
  it.each([
    ['an ordinary sheet', savedSheet()],
    [
      'notes said by turns',
      withSpans(
        [
          [1, 3],
          [20, 22],
        ],
        [[5, 9]],
        [
          [8, 12],
          [30, 31],
        ],
      ),
    ],
    ['two notes in one breath', withSpans([[1, 3]], [[1, 6]])],
    ['a note that lasts no time', withSpans([[4, 4]], [[5, 6]])],
    ['no note', { ...savedSheet(), notes: [] }],
  ])('hold %s, one a note, by the rules of WebVTT', (_, sheet) => {
    const { cues, errors } = new WebVTTParser().parse(writeChapters(sheet), 'chapters');
    expect(errors).toEqual([]);
    expect(cues.map((cue) => cue.id).sort()).toEqual(sheet.notes.map((note) => note.id).sort());
    for (const cue of cues) {
      const note = sheet.notes.find((one) => one.id === cue.id);
      expect(cue.startTime).toBeCloseTo(Math.min(...(note?.spans.map((span) => span.start) ?? [])), 3);
      expect(cue.endTime).toBeGreaterThan(cue.startTime);
      for (const other of cues) {
        const apart = other.startTime >= cue.endTime || other.endTime <= cue.startTime;
        const nested = other.startTime === cue.startTime;
        expect(apart || nested).toBe(true);
      }
    }
  });

  it('carry the titles on one line, and no markup', () => {
    const { cues } = new WebVTTParser().parse(writeChapters(withSpans([[1, 3]])), 'chapters');
    expect(cues[0]?.text).toBe('1. Note &lt;1&gt; &amp; --&gt; more of it');
  });

  it('say what was taken back', () => {
    const sheet = withSpans([[1, 3]]);
    const notes = sheet.notes.map((note) => ({ ...note, withdrawn: true }));
    expect(writeChapters({ ...sheet, notes })).toContain('1. Taken back: ');
  });
});
