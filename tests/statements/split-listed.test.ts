import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { splitTalk } from '../../src/statements/split.ts';
import { said } from '../language/said.ts';

const language = loadLanguage();
const talk = (closing: string) =>
  readTalk(
    said(...Array.from({ length: 8 }, () => 'The hand lands on the rail and it slides.'), closing),
    language,
  );

/** The statements of a closing sentence, in words. */
function statementsOf(closing: string): string[] {
  const read = talk(closing);
  const first = read.tokens.length - readTalk(said(closing), language).tokens.length;
  return splitTalk(read, [], language)
    .filter((range) => range.last >= first)
    .map((range) =>
      read.tokens
        .slice(Math.max(first, range.first), range.last + 1)
        .map((token) => token.form)
        .join(' '),
    );
}

describe('points that are counted off in one breath at the end of a talk', () => {
  it('are a statement each', () => {
    const found = statementsOf(
      'So, the main thing is the foot, then the wind-up, then that elbow on forty two.',
    );
    expect(found.at(-2)).toBe('then the wind up');
    expect(found.at(-1)).toBe('then that elbow on forty two');
  });

  it('are not taken for a list where one thing just follows another', () => {
    expect(statementsOf('He lifts the cup and then he drops it.').at(-1)).toContain('then he drops it');
    expect(statementsOf('He lifts the cup and then he drops it.')).toHaveLength(1);
  });
});
