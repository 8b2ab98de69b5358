import { describe, expect, it } from 'vitest';
import { checkLexicon, type LexiconFault } from '../../src/language/check-lexicons.ts';
import { ENGLISH, lexiconFiles, loadNumbers } from '../../src/language/language.ts';
import type { Entry } from '../../src/language/lexicon.ts';
import { readEntries } from '../../src/language/read-lexicons.ts';

const { isNumber } = loadNumbers(ENGLISH);

describe('the lexicons that come with critsheet', () => {
  it.each(lexiconFiles(ENGLISH))('$name: every entry holds', ({ name, path }) => {
    expect(checkLexicon({ name, entries: readEntries(path) }, isNumber)).toEqual([]);
  });
});

const SKATING: Entry = {
  says: 'skate',
  also: ['on ice'],
  means: 'contact',
  yes: 'her foot is skating',
  no: 'the floor gag reads well',
};
const RINK: Entry = {
  says: 'ice skating',
  also: [],
  means: 'nothing',
  yes: 'the ice skating gag',
  no: 'she is skating',
};

function check(...entries: readonly Entry[]): Pick<LexiconFault, 'line' | 'text' | 'message'>[] {
  return checkLexicon({ name: 'made-up', entries }, isNumber).map((fault) => {
    expect(fault.lexicon).toBe('made-up');
    return { line: fault.line, text: fault.text, message: fault.message };
  });
}

describe('an entry', () => {
  it('that finds its yes and not its no holds', () => {
    expect(check(SKATING, RINK)).toEqual([]);
  });

  it('fails where yes lacks its meaning; what is found instead is told', () => {
    const swallowed = { ...SKATING, yes: 'an ice skating foot' };
    const story = {
      ...SKATING,
      says: 'story',
      also: [],
      means: 'story',
      yes: 'the foot skates',
      no: 'nothing here',
    };
    expect(check(swallowed, RINK)).toEqual([
      { line: 'yes', text: 'an ice skating foot', message: 'contact is not found in it' },
    ]);
    expect(check(SKATING, story)).toEqual([
      {
        line: 'yes',
        text: 'the foot skates',
        message: 'story is not found in it, only "skates" is contact (phrase "skate")',
      },
    ]);
  });

  it('fails where no holds its meaning, by whichever entry of the file', () => {
    const planted = {
      ...SKATING,
      says: 'not planted',
      also: [],
      yes: 'not planted at all',
      no: 'she skates away',
    };
    expect(check(SKATING, planted)).toEqual([
      {
        line: 'no',
        text: 'she skates away',
        message: 'it should not be found in it, but "skates" is contact (phrase "skate")',
      },
    ]);
  });

  it('that means nothing fails where its phrase does not stand in its yes; its no is not looked into', () => {
    const absent = { ...RINK, yes: 'her foot is planted', no: 'ice skating' };
    expect(check(SKATING, absent)).toMatchObject([
      { line: 'yes', message: 'its phrase does not stand in it' },
    ]);
  });

  it.each([
    ['* foot', 'must begin with a word to look for'],
    ['her?', 'must begin with a word to look for'],
    ['foot|', 'has an empty word'],
    ['left/right', 'no word that talk can hold'],
    ['=slid*', 'no word that talk can hold'],
  ])('fails for a phrase that can never be found: %s', (phrase, message) => {
    const faults = check({ ...SKATING, also: ['on ice', phrase] });
    expect(faults).toEqual([{ line: 'phrase', text: phrase, message: expect.stringContaining(message) }]);
  });

  it('none of whose phrases can be used fails at its yes too', () => {
    expect(check({ ...SKATING, says: '*', also: [] }).map(({ line }) => line)).toEqual(['phrase', 'yes']);
  });
});
