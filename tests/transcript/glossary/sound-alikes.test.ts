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

/** A word in angle brackets was spelled out of pieces, and yet heard surely. */
const surely = (said: string) =>
  heard(said).map((word) =>
    word.text.startsWith('<') ? { ...word, text: word.text.replace(/[<>]/g, ''), isSpelled: true } : word,
  );

describe('names that were asked for', () => {
  const names = soundAlikeMender({
    phrases: [
      ...['Quillon', 'Marrowby'].map((name) => ({ text: name, source: 'own' }) as const),
      { text: 'toes', source: 'trade' },
    ],
  });

  it.each([
    ['what <Quillen> does', 'what Quillon does'],
    ["and <Maroobie's,> hand", "and Marrowby's, hand"],
  ])('are found however surely something like them was spelled: %s', (before, after) =>
    expect(text(names(surely(before)))).toBe(after),
  );

  it.each(['now (Toaz) drops it', 'now (toaz) drop', 'the <kneese> bend'])(
    'do not give way to words of the trade, and those are as they were: %s',
    (said) => expect(text(names(surely(said)))).toBe(said.replace(/[()<>]/g, '')),
  );
});

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
