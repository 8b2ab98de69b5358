import { describe, expect, it } from 'vitest';
import { measureAnswer, measurementOf } from '../../src/measure/measure.ts';
import { reportOf } from '../../src/measure/report.ts';
import { A, answerWith, B, C, D, E } from './hand-made.ts';

const measurement = measurementOf([measureAnswer(answerWith(A, B, C, { ...D, withdrawn: false }, E))], 2);

describe('misses', () => {
  it('of notes name what was lost and what stands nearest', () => {
    const { worst } = measurementOf([measureAnswer(answerWith({ ...A, withdrawn: true }, B, C, D))], 9);
    expect(worst.lost).toMatchObject([{ critique: 'by-hand', goldNote: 'n1', note: 'a' }]);
    expect(worst.lost[0]?.got).toContain('heard as fix, fix, fix; taken for taken back');
    expect(worst.lost[0]?.words).toBe('words of second 0 words of second 1 words of second 7');
    const lost = measurementOf([measureAnswer(answerWith(C))], 9).worst.lost;
    expect(lost.map(({ goldNote }) => goldNote)).toEqual(['n1', 'n2']);
  });

  it('of notes name what was invented, and what was made of something taken back, the highest ranked first', () => {
    expect(measurement.worst.invented.map(({ note, goldNote }) => [note, goldNote])).toEqual([
      ['e', null],
      ['d', 'n4'],
    ]);
  });

  it('of tags are the surest first, and no more than asked for', () => {
    const sure = { ...B, confidence: { ...B.confidence, issue: 0.95 } };
    const { wrongTags, otherWrongTags } = measurementOf([measureAnswer(answerWith(A, sure, C))], 2).worst;
    expect(wrongTags).toHaveLength(2);
    expect(wrongTags[0]).toMatchObject({
      tag: 'issue',
      confidence: 0.95,
      gold: 'pop',
      got: 'spacing',
      note: 'b',
    });
    expect(otherWrongTags.map(({ tag, note }) => [tag, note])).toEqual([
      ['amount', 'a'],
      ['character', 'b'],
    ]);
  });
});

describe('the report', () => {
  const report = reportOf(measurement);

  it('has a row for each critique, one in all, and one to reach', () => {
    expect(report).toMatch(/^ {2}by-hand +0\.750 +1\.000 +0\.857 /m);
    expect(report).toMatch(/^ {2}in all +0\.750 +1\.000 +0\.857 /m);
    expect(report).toMatch(/^ {2}to reach +0\.800 +0\.720$/m);
  });

  it('has the confusion of roles and of issues; an issue that the label allows too is right', () => {
    expect(report).toMatch(/^ {2}why +1( +-)+$/m);
    expect(report).toMatch(/^ {2}timing +1 +1$/m);
    expect(report).toMatch(/^ {2}pop +1 +0 +spacing 1$/m);
  });

  it('has the reliability of each tag', () => {
    expect(report).toMatch(/^ {2}0\.8 to 0\.9 +0\.67 of 3 +0\.50 of 2 .* 0\.67 of 15$/m);
    expect(report).toMatch(/^ {2}cal err .* 0\.133$/m);
  });

  it('is no wider than a wide terminal, but for words and legends', () => {
    const tables = report.split('\n').filter((line) => /^ {2}\S/.test(line));
    expect(Math.max(...tables.map((line) => line.length))).toBeLessThanOrEqual(120);
  });
});
