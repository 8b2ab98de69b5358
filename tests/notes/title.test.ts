import { describe, expect, it } from 'vitest';
import { ISSUES, PARTS } from '../../src/basics/terms.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { amountText, type TitleParts, titleOf } from '../../src/notes/title.ts';

const language = loadLanguage();
const title = (parts: Partial<TitleParts>): string =>
  titleOf(
    {
      role: 'fix',
      issue: null,
      body: [],
      amount: null,
      direction: null,
      own: new Map(),
      character: null,
      ...parts,
    },
    language,
  );

describe('a title', () => {
  it('tells what to do to which part', () => {
    expect(title({ issue: 'pop', body: [{ part: 'knee', side: 'left' }] })).toBe(
      'Take the pop out of the left knee',
    );
  });

  it('names no more than two parts', () => {
    const body = (['knee', 'hips', 'chest'] as const).map((part) => ({ part, side: null }));
    expect(title({ issue: 'overlap', body })).toBe('Let the knee and hips drag and follow through');
  });

  it('says hands of both sides', () => {
    expect(title({ issue: 'twinning', body: [{ part: 'hand', side: 'both' }] })).toBe(
      'Break the twinning of both hands',
    );
    expect(title({ issue: 'contact', body: [{ part: 'foot', side: 'both' }] })).toContain('both feet');
  });

  it('says whose part it is where the shot has several characters', () => {
    expect(title({ issue: 'arc', body: [{ part: 'tail', side: null }], character: 'the sea hound' })).toBe(
      "Round off the arc of the sea hound's tail",
    );
    expect(title({ issue: 'arc', body: [{ part: 'tail', side: null }], character: 'Boss' })).toContain(
      "Boss' tail",
    );
  });

  it("takes the mentor's own word for a prop", () => {
    expect(
      title({ issue: 'contact', body: [{ part: 'prop', side: null }], own: new Map([['prop', 'rope']]) }),
    ).toBe('Lock the contact of the rope');
  });

  it('turns round with the direction that was said', () => {
    const parts: Partial<TitleParts> = { issue: 'exaggeration', body: [{ part: 'brow', side: null }] };
    expect(title({ ...parts, direction: 'less' })).toBe('Pull the brows back');
    expect(title({ ...parts, direction: 'more' })).toBe('Push the brows further');
  });

  it('carries the amount', () => {
    const amount = { min: 3, max: 4, unit: 'frames', what: 'add' } as const;
    expect(title({ issue: 'hold', amount })).toBe('Put life into the hold: 3 to 4 frames more');
  });

  it('of a keep says what to keep', () => {
    expect(title({ role: 'keep', issue: 'timing', body: [{ part: 'head', side: null }] })).toBe(
      'Keep the timing of the head',
    );
    expect(title({ role: 'keep' })).toBe('Keep this as it is');
  });

  it('does not invent a fault', () => {
    expect(title({})).toBe('Look again at this');
    expect(title({ body: [{ part: 'hand', side: 'right' }] })).toBe('Look again at the right hand');
  });

  it.each(ISSUES)('of %s is whole with every part and without one', (issue) => {
    const titles = [
      title({ issue }),
      ...PARTS.flatMap((part) => [
        title({ issue, body: [{ part, side: null }] }),
        title({ role: 'keep', issue, body: [{ part, side: null }] }),
      ]),
    ];
    for (const one of titles) {
      expect(one).toMatch(/^[A-Z][a-z]/);
      expect(one).not.toMatch(/[{}]|undefined| {2}/);
    }
  });
});

describe('an amount in words', () => {
  it.each([
    [{ min: 1, max: 1, unit: 'frames', what: 'later' }, '1 frame later'],
    [{ min: 2, max: 2, unit: 'frames', what: 'remove' }, '2 frames less'],
    [{ min: 12, max: 16, unit: 'frames', what: 'hold' }, 'hold 12 to 16 frames'],
    [{ min: 30, max: 30, unit: 'percent', what: 'remove' }, '30 percent less'],
    [{ min: 1, max: 1, unit: 'percent', what: 'add' }, '1 percent more'],
  ] as const)('%j', (amount, words) => {
    expect(amountText(amount)).toBe(words);
  });
});
