import { describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { transcriptOf } from '../language/said.ts';

const language = loadLanguage();
const shot = shotSchema.parse({ first: 1, last: 168, dialogue: ['Shall I start again?'] });
const statements = (...breaths: string[]) => findStatements(transcriptOf(...breaths), shot, language);
const texts = (...breaths: string[]): string[] => statements(...breaths).map(({ text }) => text);

describe('a talk is cut into statements', () => {
  it('that join a sentence spoken over three breaths', () => {
    expect(texts('The left hand', 'is a little late', 'on the way down.')).toEqual([
      'The left hand is a little late on the way down.',
    ]);
  });

  it('that part two sentences', () => {
    expect(texts('The left foot slides on the landing.', 'I love the smile at the end.')).toEqual([
      'The left foot slides on the landing.',
      'I love the smile at the end.',
    ]);
  });

  it("that part the shot's own line from the comment", () => {
    expect(texts('And here his hand is late. Shall I start again?', 'Yes, right there it pops.')).toContain(
      'Shall I start again?',
    );
  });

  const LONG = Array.from({ length: 40 }, (_, i) => `and then the hand goes up ${i} and the foot comes down`);
  it.each([
    ['with stops', ['Hello.', 'The left hand is late.', '-- ...', 'Lovely, lovely smile.', '!']],
    ['without stops', ['hello there so um the left hand', 'is late and I', 'love the smile do not touch it']],
    ['without a breath', [LONG.join(' ')]],
    ['of one word', ['Okay.']],
    ['that begins with a dash', ['—', 'The knee pops.']],
  ])('that hold every word once, in a talk %s', (_, breaths) => {
    const { words } = transcriptOf(...breaths);
    const covered = statements(...breaths).flatMap(({ firstWord, lastWord }) =>
      Array.from({ length: lastWord - firstWord + 1 }, (__, i) => firstWord + i),
    );
    expect(covered).toEqual(words.map((__, i) => i));
  });

  it('of talk without stops too', () => {
    const found = texts(
      'so the left foot is sliding all through the landing',
      'and I really love the smile at the end do not touch that',
      'the head pops on frame forty two',
    );
    expect(found.length).toBeGreaterThanOrEqual(3);
  });

  it('of a breath that the recogniser left without stops between others that have them', () => {
    const stopped = Array.from({ length: 12 }, () => 'The rope slips, and then it holds. Good.');
    const found = texts(
      ...stopped,
      'so the left foot is sliding all through the landing',
      'the head pops on frame forty two just the one frame',
      'and I really love the smile at the end do not touch that',
      ...stopped,
    );
    expect(found).toContain('the head pops on frame forty two just the one frame');
  });

  it('none longer than a person can take in', () => {
    for (const { firstWord, lastWord } of statements(LONG.join(' ')))
      expect(lastWord - firstWord).toBeLessThan(45);
  });

  it('none where nothing was said', () => {
    expect(statements('')).toEqual([]);
  });

  it('with the time, the words and the repairs of each', () => {
    const [one] = statements('The, um, the left hand is late.');
    expect(one).toMatchObject({ id: 's1', start: 0.5, firstWord: 0 });
    expect(one?.repairs).toContainEqual({ kind: 'filler', firstWord: 1, lastWord: 1 });
  });
});
