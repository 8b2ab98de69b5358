import { describe, expect, it } from 'vitest';
import { ENGLISH, loadNumbers } from '../../src/language/language.ts';
import { Lexicon } from '../../src/language/lexicon.ts';
import { compilePhrase, matchAt } from '../../src/language/phrase.ts';
import { tokensOfText } from '../../src/language/tokens.ts';

const { isNumber } = loadNumbers(ENGLISH);

/** The words that a phrase finds first in a text, or null. */
function found(phrase: string, text: string): string | null {
  const tokens = tokensOfText(text);
  const compiled = compilePhrase(phrase);
  for (let first = 0; first < tokens.length; first++) {
    const last = matchAt(compiled, tokens, first, isNumber);
    if (last >= first)
      return tokens
        .slice(first, last + 1)
        .map(({ form }) => form)
        .join(' ');
  }
  return null;
}

// The signs of src/lexicons/README.md, each with a text it finds and one it must not.
describe('a sign of the lexicon guide', () => {
  it.each([
    ['skate', 'her foot is skating', 'skating'],
    ['=timing', 'the timing is off', 'timing'],
    ['slid*', 'a sliding foot', 'sliding'],
    ['foot|feet', 'both feet', 'feet'],
    ['hold her? there', 'hold her there', 'hold her there'],
    ['hold her? there', 'just hold there', 'hold there'],
    ['frame #', 'on frame twelve', 'frame twelve'],
    ['frame #', 'on frame 12', 'frame 12'],
    ['the * pops', 'the elbow pops', 'the elbow pops'],
    ['goes ... straight', 'goes all of a sudden straight', 'goes all of a sudden straight'],
  ])('%s finds "%s"', (phrase, text, words) => {
    expect(found(phrase, text)).toBe(words);
  });

  it.each([
    ['skate', 'her foot is sliding'],
    ['=timing', 'he times it well'],
    ['slid*', 'a slow slipper'],
    ['foot|feet', 'both hands'],
    ['hold her? there', 'hold him there'],
    ['frame #', 'on frame left'],
    ['the * pops', 'the pops'],
    ['goes ... straight', 'goes home. Straight lines'],
    ['goes ... straight', 'goes one two three four five straight'],
  ])('%s does not find "%s"', (phrase, text) => {
    expect(found(phrase, text)).toBeNull();
  });

  it('takes no account of apostrophes, capitals and hyphens', () => {
    expect(found("don't", 'DONT move')).toBe('dont');
    expect(found('dont', 'don’t move')).toBe('dont');
    expect(found('moving-hold', 'a Moving hold')).toBe('moving hold');
  });

  it('may not be the first word where it finds any word, nor stand for nothing', () => {
    expect(() => compilePhrase('* pops')).toThrow('"* pops" must begin with a word');
    expect(() => compilePhrase('foot|')).toThrow('"foot|" has an empty word');
  });
});

describe('a lexicon', () => {
  const entry = { also: [], yes: '-', no: '-' };
  const lexicon = new Lexicon(
    'try',
    [
      { ...entry, says: 'hand', means: 'hand' },
      { ...entry, says: 'on the other hand', means: 'nothing' },
      { ...entry, says: 'hand held', means: 'camera' },
    ],
    isNumber,
  );
  const meanings = (text: string): string[] => lexicon.find(tokensOfText(text)).map(({ means }) => means);

  it('lets a long phrase speak for its words', () => {
    expect(meanings('it feels hand held')).toEqual(['camera']);
  });

  it('does not understand what is marked as nothing', () => {
    expect(meanings('on the other hand, the hand is late')).toEqual(['hand']);
  });
});
