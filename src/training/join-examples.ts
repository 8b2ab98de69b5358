import type { Language } from '../language/language.ts';
import type { Mention } from '../notes/mentions.ts';
import { groupMentions } from '../notes/mentions.ts';
import { type Reading, readForNotes, sketch } from '../notes/reading.ts';
import { joinFeatures } from '../notes/refiners/join.ts';
import { type Sketch, standingsOf } from '../notes/refiners/sketch.ts';
import { takeBackFeatures } from '../notes/refiners/take-back.ts';
import type { Statement } from '../statements/statement.ts';
import type { Example, Prepared } from './examples.ts';

interface GoldPoint {
  readonly id: string;
  readonly role: 'fix' | 'keep';
  readonly mentions: Mention[];
  sketch: Sketch;
}

function noteOf({ critique, statements }: Prepared, statement: Statement | undefined): string | undefined {
  return statement ? critique.segments[statements.indexOf(statement)]?.note : undefined;
}

/** One point in so many that are taken back is missed by the stages before. */
const MISSED_EVERY = 2;

/**
 * Walks through a critique as the notes stage does, with mentions and points as a person grouped them, and asks at each
 * mention which earlier points it is about, and at each taking back which point is meant.
 */
export function joinAndTakeBackExamples(
  prepared: Prepared,
  language: Language,
): { join: Example[]; takeBack: Example[] } {
  const reading = readForNotes(prepared.transcript, prepared.statements, prepared.shot, language);
  const points: GoldPoint[] = [];
  const join: Example[] = [];
  const takeBack: Example[] = [];
  const mentions = groupMentions(prepared.statements);
  const drops = prepared.statements.filter((statement) => statement.role === 'drop');
  let nextDrop = 0;
  let taken = 0;
  const dropUntil = (start: number): void => {
    for (let drop = drops[nextDrop]; drop && drop.start < start; drop = drops[nextDrop]) {
      const group = [drop];
      nextDrop += 1;
      while (drops[nextDrop] && noteOf(prepared, drops[nextDrop]) === noteOf(prepared, drop))
        group.push(drops[nextDrop++] ?? drop);
      takeBack.push(...takeBackOf(group, prepared, reading, points));
      // Now and then what was taken back was not understood as a point at all, and then nothing is meant.
      taken += 1;
      if (taken % MISSED_EVERY === 0) {
        const others = points.filter((point) => point.id !== noteOf(prepared, drop));
        takeBack.push(...takeBackOf(group, prepared, reading, others));
      }
    }
  };
  for (const mention of mentions) {
    dropUntil(mention.statements[0]?.start ?? 0);
    const id =
      noteOf(
        prepared,
        mention.statements.find((one) => one.role === mention.role),
      ) ?? '';
    const fresh = sketch(reading, mention.role, [mention.statements]);
    const sketches = points.map((point) => point.sketch);
    for (const { index, point, standing } of standingsOf(fresh, sketches, (one) => one.role === mention.role))
      join.push({
        features: joinFeatures(fresh, point, standing),
        label: points[index]?.id === id ? 'same' : 'other',
      });
    const known = points.find((point) => point.id === id);
    if (known) {
      known.mentions.push(mention);
      known.sketch = sketch(
        reading,
        known.role,
        known.mentions.map((one) => one.statements),
      );
    } else {
      points.push({ id, role: mention.role, mentions: [mention], sketch: fresh });
    }
  }
  dropUntil(Number.POSITIVE_INFINITY);
  return { join, takeBack };
}

function takeBackOf(
  group: readonly Statement[],
  prepared: Prepared,
  reading: Reading,
  points: readonly GoldPoint[],
): Example[] {
  const id = noteOf(prepared, group[0]);
  const taken = sketch(reading, 'fix', [group]);
  const sketches = points.map((point) => point.sketch);
  return standingsOf(taken, sketches, (point) => point.role === 'fix').map(({ index, point, standing }) => ({
    features: takeBackFeatures(taken, point, standing),
    label: points[index]?.id === id ? 'meant' : 'other',
  }));
}
