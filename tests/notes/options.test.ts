import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { findOptions } from '../../src/notes/finders/options.ts';
import type { Statement } from '../../src/statements/statement.ts';
import { evidenceIn } from './read.ts';

const language = loadLanguage();

function optionsIn(breaths: readonly string[], role: Statement['role'] = 'fix'): string[] {
  const { talk, evidence } = evidenceIn(language, breaths, role);
  return findOptions(talk, evidence, language);
}

describe('the ways out of a note', () => {
  it('are two, in the words of the mentor', () => {
    expect(optionsIn(['Either lift the elbow a little or drop the whole arm.'])).toEqual([
      'lift the elbow a little',
      'drop the whole arm',
    ]);
  });

  it('may be three', () => {
    expect(
      optionsIn(['Either lift the elbow a little, or drop the arm, or turn the shoulders away.']),
    ).toEqual(['lift the elbow a little', 'drop the arm', 'turn the shoulders away']);
  });

  it('may run on into the next breath', () => {
    expect(optionsIn(['You could either hold the pose longer,', 'or you could cut the blink.'])).toHaveLength(
      2,
    );
  });

  it.each([
    'Ease the elbow two or three frames.',
    'It is a foot or so too high.',
    'The head is more or less there, lift the chin.',
    'Lock the left foot to the deck.',
  ])('are none in "%s"', (text) => {
    expect(optionsIn([text])).toEqual([]);
  });

  it('are none in what is not asked for', () => {
    expect(optionsIn(['Either lift the elbow a little or drop the whole arm.'], 'why')).toEqual([]);
  });
});
