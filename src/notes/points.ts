import type { Statement } from '../statements/statement.ts';
import { groupMentions, groupTakebacks, type Mention } from './mentions.ts';
import { openingsOf } from './openings.ts';
import { type Reading, sketch } from './reading.ts';
import { findEarlier } from './refiners/join.ts';
import type { Sketch } from './refiners/sketch.ts';
import { findTakenBack } from './refiners/take-back.ts';

/** One point of the critique: every mention of it, and what took it back. */
export interface Point {
  readonly role: 'fix' | 'keep';
  mentions: Mention[];
  takenBack: Statement[];
  /** How sure the least sure joining was; 1 where the point was mentioned once. */
  joinedBy: number;
}

/** A taking back is believed from this probability on of its meaning that point: a live note lost harms more than one too many. */
const BELIEVED = 0.5;

/** Joins the mentions of a talk into points, in the order of their first mention, and attaches takings back. */
export function findPoints(reading: Reading, statements: readonly Statement[]): Point[] {
  const points: Point[] = [];
  const sketches: Sketch[] = [];
  const takebacks = groupTakebacks(statements);
  let nextTakeback = 0;
  const takeUntil = (start: number): void => {
    for (; nextTakeback < takebacks.length; nextTakeback++) {
      const group = takebacks[nextTakeback] ?? [];
      if ((group[0]?.start ?? 0) > start) return;
      takeBack(reading, group, points, sketches);
    }
  };
  for (const mention of groupMentions(statements, openingsOf(reading))) {
    takeUntil(mention.statements[0]?.start ?? 0);
    const fresh = sketch(reading, mention.role, [mention.statements]);
    const earlier = findEarlier(fresh, sketches, reading.language);
    const point = earlier && points[earlier.index];
    if (earlier && point) {
      point.mentions.push(mention);
      point.joinedBy = Math.min(point.joinedBy, earlier.likely);
      sketches[earlier.index] = sketch(
        reading,
        point.role,
        point.mentions.map((one) => one.statements),
      );
    } else {
      points.push({ role: mention.role, mentions: [mention], takenBack: [], joinedBy: 1 });
      sketches.push(fresh);
    }
  }
  takeUntil(Number.POSITIVE_INFINITY);
  return points;
}

function takeBack(
  reading: Reading,
  group: readonly Statement[],
  points: readonly Point[],
  sketches: readonly Sketch[],
): void {
  const found = findTakenBack(sketch(reading, 'fix', [group]), sketches, reading.language);
  const point = found && points[found.index];
  if (point && found.likely >= BELIEVED) point.takenBack.push(...group);
}
