import { describe, expect, it } from 'vitest';
import { readListenedWords } from '../../../src/language/listened-words.ts';
import { listenFor, phraseFault } from '../../../src/transcript/glossary/listen-for.ts';

describe('what is listened for', () => {
  it('is the words of the trade, of the shot, and those asked for, each once', () => {
    const { phrases } = listenFor({
      trade: ['knee', 'eye line'],
      shot: {
        characters: [{ name: 'the beekeeper', words: ['beekeeper', 'she'] }],
        dialogue: ['Mind the knee, Odalys!'],
      },
      own: ['Odalys', 'retime'],
    });
    const texts = (source: string) => phrases.filter((one) => one.source === source).map(({ text }) => text);
    expect(texts('own')).toEqual(['Odalys', 'retime']);
    expect(texts('trade')).toEqual(['knee', 'eye line']);
    expect(texts('shot')).toEqual(['the', 'beekeeper', 'she']);
    expect(texts('line')).toEqual(['Mind']);
  });

  it('is plain data, so that what is heard can be kept under it', () => {
    const given = { trade: readListenedWords(), own: ['retime'] };
    expect(JSON.parse(JSON.stringify(listenFor(given)))).toEqual(listenFor(given));
  });

  it('holds the words that critiques are made of', () => {
    const words = readListenedWords();
    expect(words).toEqual(
      expect.arrayContaining(['knees', 'eye line', 'silhouette', 'on twos', 'arc', 'hit the pose']),
    );
    expect(words.filter((word) => phraseFault(word) !== null)).toEqual([]);
    expect(words.filter((word) => word !== word.toLowerCase())).toEqual([]);
  });
});

describe('a phrase that somebody asks for', () => {
  it.each(['knee', 'line of action', "crow's feet", 'Odalys', 'in-between', 'sh 040 layout'])(
    'is taken where it can be said: %s',
    (phrase) => expect(phraseFault(phrase)).toBeNull(),
  );

  it.each([
    ['42', /no letter/],
    ['knee; elbow', /mark/],
    ['it', /shorter/],
    ['one two three four five six seven', /longer/],
  ])('is refused where it cannot be: %s', (phrase, why) => expect(phraseFault(phrase)).toMatch(why));
});
