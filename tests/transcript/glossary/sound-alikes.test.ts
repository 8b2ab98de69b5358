import { describe, expect, it } from 'vitest';
import { type SpelledWord, soundAlikeMender } from '../../../src/transcript/glossary/sound-alikes.ts';

const mend = soundAlikeMender({
  phrases: ['deckhand', 'eye line', 'knee', 'Odalys', 'hindquarters'].map((text) => ({
    text,
    source: 'own',
  })),
});

/** Words a tenth of a second apart; those in brackets were heard unsurely and spelled out of pieces. */
function heard(text: string): SpelledWord[] {
  return text.split(' ').map((word, index) => {
    const isUnsure = word.startsWith('(');
    return {
      text: word.replace(/[()]/g, ''),
      start: index / 10,
      end: (index + 1) / 10,
      confidence: isUnsure ? 0.2 : 0.9,
      isSpelled: isUnsure,
    };
  });
}
const text = (words: readonly { text: string }[]) => words.map((word) => word.text).join(' ');

describe('words that sound like one that is listened for', () => {
  it.each([
    ['the deck hand turns', 'the deckhand turns'],
    ['his hind quarters, then', 'his hindquarters, then'],
    ['tell (Odelis) to wait', 'tell Odalys to wait'],
    ['the (eyeliner.) is off', 'the eye line. is off'],
  ])('are mended: %s', (before, after) => expect(text(mend(heard(before)))).toBe(after));

  it('keep what was heard beside them, their place and their doubt', () => {
    const words = mend(heard('tell (Odelis) to wait'));
    expect(words[1]).toEqual({ text: 'Odalys', start: 0.1, end: 0.2, confidence: 0.2, heard: 'Odelis' });
    expect(words[0]).toEqual({ text: 'tell', start: 0, end: 0.1, confidence: 0.9 });
  });

  it.each(['on deck. Hand it over', 'tell Odelis to wait', 'the (42) knee', 'he is (nice) there', ''])(
    'are left alone where they are sure, apart, numbers, or sound otherwise: %s',
    (said) => expect(text(mend(said === '' ? [] : heard(said)))).toBe(said.replace(/[()]/g, '')),
  );
});
