import { describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { findCharacters } from '../../src/notes/finders/character.ts';
import { said } from '../language/said.ts';

const language = loadLanguage();

const FERRY = shotSchema.parse({
  characters: [
    { name: 'the deckhand', words: ['deckhand', 'he', 'him', 'his'] },
    { name: 'the sea hound', words: ['hound', 'sea hound', 'she', 'her'] },
  ],
});
const TWINS = shotSchema.parse({
  characters: [
    { name: 'the baker', words: ['he', 'his'] },
    { name: 'the waiter', words: ['he', 'his'] },
  ],
});

const meant = (text: string, shot = FERRY): string[] =>
  findCharacters(readTalk(said(text), language), shot).map(({ character }) => character.name);

describe('who is meant', () => {
  it('is told by name and by pronoun', () => {
    expect(meant('The deckhand is late and her tail is early.')).toEqual(['the deckhand', 'the sea hound']);
  });

  it('is one, once, where a name has two words', () => {
    expect(meant('the sea hound waits')).toEqual(['the sea hound']);
  });

  it("is whose head it is: the hound's", () => {
    expect(meant("the hound's head and the deckhands hand")).toEqual(['the sea hound', 'the deckhand']);
  });

  it('of two who share a pronoun is the one who was named last', () => {
    expect(meant('The baker turns, his hand is late. The waiter stops, he is stiff.', TWINS)).toEqual([
      'the baker',
      'the baker',
      'the waiter',
      'the waiter',
    ]);
  });

  it('is nobody before either of them was named', () => {
    expect(meant('his hand is late', TWINS)).toEqual([]);
  });

  it('is nobody in words that only hold a name', () => {
    expect(meant('the theory here is simple')).toEqual([]);
  });

  it('is nobody where the shot names nobody', () => {
    expect(meant('his hand is late', shotSchema.parse({}))).toEqual([]);
  });
});
