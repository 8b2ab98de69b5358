import { describe, expect, it } from 'vitest';
import { tokensOfText } from '../../src/language/tokens.ts';
import { findDialogue } from '../../src/statements/dialogue.ts';

const LINES = ['Good evening. I have a poem about the moon.', 'Shall I start again?'];

function heard(text: string): { line: number; words: string; share: number }[] {
  const tokens = tokensOfText(text);
  return findDialogue(tokens, LINES).map(({ line, share, first, last }) => ({
    line,
    share,
    words: tokens
      .slice(first, last + 1)
      .map(({ form }) => form)
      .join(' '),
  }));
}

describe("the shot's own dialogue", () => {
  it('is found where a line is heard whole', () => {
    expect(heard('Good evening. I have a poem about the moon.')).toEqual([
      { line: 0, share: 1, words: 'good evening i have a poem about the moon' },
    ]);
  });

  it('is found where the recogniser misheard a word', () => {
    const [line] = heard('Good evening. I have a home about the moon.');
    expect(line).toMatchObject({ line: 0, words: 'good evening i have a home about the moon' });
    expect(line?.share).toBeCloseTo(8 / 9, 6);
  });

  it('is found where the recogniser missed a word', () => {
    expect(heard('good evening i have poem about the moon')).toMatchObject([{ line: 0 }]);
  });

  it('is cut out of the comment around it', () => {
    expect(heard('so his hand is late here Shall I start again? yes right there')).toEqual([
      { line: 1, share: 1, words: 'shall i start again' },
    ]);
  });

  it('is found each time the shot plays, in the order of the talk', () => {
    const text =
      'Shall I start again? lovely, once more. Good evening. I have a poem about the moon. Shall I start again?';
    expect(heard(text).map(({ line }) => line)).toEqual([1, 0, 1]);
  });

  it('is not found in a quotation of one word', () => {
    expect(heard('on the word moon the jaw is late')).toEqual([]);
    expect(heard('his mouth on evening closes early')).toEqual([]);
  });

  it('is not found where the shot has none', () => {
    expect(findDialogue(tokensOfText('shall i start again'), [])).toEqual([]);
    expect(findDialogue(tokensOfText('shall i start again'), ['', '...'])).toEqual([]);
    expect(findDialogue([], LINES)).toEqual([]);
  });
});
