import { describe, expect, it } from 'vitest';
import { classify } from '../../src/language/chain-model.ts';
import { CHOICE_LABELS, chances } from '../../src/language/choice.ts';
import { fitChoice } from '../../src/training/fit-choice.ts';

const model = {
  labels: [...CHOICE_LABELS],
  weights: { near: [Math.log(2), 0], named: [Math.log(3), 0] },
  transitions: [],
};

describe('a choice among points', () => {
  it('is as likely for each as its score is high beside the others', () => {
    // Conditional logit: exp of the summed weights, shared out (McFadden, 1974): 1 : 2 : 6.
    const [none, near, both] = chances(model, [[], ['near'], ['near', 'named']]);
    expect(none).toBeCloseTo(1 / 9, 10);
    expect(near).toBeCloseTo(2 / 9, 10);
    expect(both).toBeCloseTo(6 / 9, 10);
  });

  it('of two is a plain logistic regression on what tells them apart', () => {
    const [chosen] = chances(model, [['near', 'named'], []]);
    expect(chosen).toBeCloseTo(classify(model, ['near', 'named']).get('chosen') ?? 0, 10);
  });

  it('is none where there is nothing to choose from', () => {
    expect(chances(model, [])).toEqual([]);
  });

  it('is learned from choices that people made', () => {
    const choices = Array.from({ length: 40 }, (_, i) => ({
      alternatives: [['none'], ['point', 'far'], ['point', 'named']],
      chosen: i % 10 === 0 ? 0 : 2,
    }));
    const fitted = fitChoice(
      choices,
      choices.map((_, i) => `${i}`),
      { pull: 0.01 },
    );
    const [none, far, named] = chances(fitted, choices[0]?.alternatives ?? []);
    expect(none).toBeCloseTo(0.1, 1);
    expect(far).toBeLessThan(0.03);
    expect(named).toBeCloseTo(0.9, 1);
  });
});
