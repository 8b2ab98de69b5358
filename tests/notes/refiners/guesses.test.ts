import { describe, expect, it } from 'vitest';
import { atSameMoment } from '../../../src/notes/refiners/moments.ts';
import { betweenNeighbours } from '../../../src/notes/refiners/neighbours.ts';

const on = (first: number) => ({ first, last: first, source: 'spoken' as const, confidence: 1 });

describe('a note between two placed ones', () => {
  const placed = (first: number, begun: number) => ({ begun, frames: on(first) });

  it('lies between their frames, and says that it is a guess', () => {
    const notes = [placed(1010, 10), { begun: 20, frames: null }, placed(1022, 30)];
    const guess = betweenNeighbours(notes, 1, 24);
    expect(guess?.frames).toMatchObject({ first: 1010, last: 1022, source: 'neighbour' });
    expect(guess?.frames.confidence).toBeLessThan(0.5);
    expect(guess?.guessedFrom).toMatch(/before and after/);
  });

  it('has no place where the mentor jumped about', () => {
    const between = (before: ReturnType<typeof placed>, begun: number, after: ReturnType<typeof placed>) =>
      betweenNeighbours([before, { begun, frames: null }, after], 1, 24);
    expect(between(placed(1100, 10), 20, placed(1010, 30))).toBeNull();
    expect(between(placed(1001, 10), 20, placed(1160, 30))).toBeNull();
    expect(between(placed(1010, 10), 200, placed(1022, 400))).toBeNull();
  });
});

describe('a note on a moment that another note places', () => {
  const note = (character: string | null, first: number | null, ...moments: string[]) => ({
    ...{ character, guessedFrom: null, moments: new Set(moments) },
    frames: first === null ? null : on(first),
  });

  it('lies there', () => {
    const notes = [note('the fox', 42, 'landing'), note('the fox', null, 'landing')];
    expect(atSameMoment(notes, 1, 24)?.frames).toMatchObject({ first: 42, last: 42, source: 'neighbour' });
  });

  it('has no place where it is the moment of another character, or where there are two such moments', () => {
    expect(
      atSameMoment([note('the owl', 42, 'landing'), note('the fox', null, 'landing')], 1, 24),
    ).toBeNull();
    const twice = [note(null, 42, 'landing'), note(null, 90, 'landing'), note(null, null, 'landing')];
    expect(atSameMoment(twice, 2, 24)).toBeNull();
    expect(atSameMoment([note(null, 42, 'takeoff'), note(null, null, 'landing')], 1, 24)).toBeNull();
  });
});
