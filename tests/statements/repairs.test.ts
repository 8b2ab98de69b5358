import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { findRepairs } from '../../src/statements/repairs.ts';
import type { Repair } from '../../src/statements/statement.ts';
import { said } from '../language/said.ts';

const language = loadLanguage();

function repairs(text: string, kind: Repair['kind']): string[] {
  const talk = readTalk(said(text), language);
  return findRepairs(talk)
    .filter((repair) => repair.kind === kind)
    .map(({ first, last }) =>
      talk.tokens
        .slice(first, last + 1)
        .map(({ form }) => form)
        .join(' '),
    );
}

describe('words taken back in speaking', () => {
  it('are fillers', () => {
    expect(repairs("it's, um, the hand that is, you know, late", 'filler')).toEqual(['um', 'you know']);
  });

  it('are words said twice', () => {
    expect(repairs('the the hand is late', 'repeat')).toEqual(['the']);
    expect(repairs('and then he then he lifts the cup', 'repeat')).toEqual(['then he']);
  });

  it('are not the words of a restart that says something else', () => {
    expect(repairs("it's, the, her hand is late", 'repeat')).toEqual([]);
    expect(repairs("it's, the, her hand is late", 'correction')).toEqual([]);
  });

  it('are not a sentence said twice for emphasis', () => {
    expect(repairs('Lock it. Lock it. And then go on.', 'repeat')).toEqual([]);
  });
});

describe('a word put right', () => {
  it.each([
    ['the left hand, sorry, the right hand is late', ['left hand']],
    ['on frame ten, no wait, on frame twelve it pops', ['ten']],
    ['the elbow, I mean the wrist, snaps', ['elbow']],
  ])('%s', (text, wrong) => {
    expect(repairs(text, 'correction').join(' ')).toContain(wrong.join(' '));
  });

  it('is the one that is denied by name', () => {
    const wrong = repairs('the left hand is late, sorry, not the left, the right hand', 'correction');
    expect(wrong.filter((words) => /left/.test(words)).length).toBeGreaterThanOrEqual(2);
    expect(wrong.filter((words) => /right/.test(words))).toEqual([]);
  });

  it('is none where two parts are simply told apart', () => {
    expect(repairs('the left hand leads and the right hand follows', 'correction')).toEqual([]);
    expect(repairs('sorry about the noise, the left hand is late', 'correction')).toEqual([]);
  });
});
