import type { Critique } from '../measure/critique.ts';

/** For each segment the label of the turns model: its role, and for notes whether another note was talked of before. */
export function turnLabels(critique: Critique): string[] {
  let current: string | undefined;
  return critique.segments.map(({ role, note }) => {
    if (role === 'fix' || role === 'keep') {
      const label = note === current ? role : `${role}+`;
      current = note;
      return label;
    }
    if (role === 'why') current = note ?? current;
    return role;
  });
}
