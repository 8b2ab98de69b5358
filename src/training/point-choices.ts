import { overlapSeconds } from '../basics/span.ts';
import type { Language } from '../language/language.ts';
import { groupMentions, groupTakebacks, type Mention } from '../notes/mentions.ts';
import type { Opens } from '../notes/openings.ts';
import { readForNotes, sketch } from '../notes/reading.ts';
import { joinAlternatives } from '../notes/refiners/join.ts';
import type { Sketch } from '../notes/refiners/sketch.ts';
import { takeBackAlternatives } from '../notes/refiners/take-back.ts';
import type { Statement } from '../statements/statement.ts';
import type { Choice } from './fit-choice.ts';
import type { Prepared } from './prepare.ts';

/** A point as a person grouped it; without an id where they heard no note in it. */
interface Met {
  readonly id: string | undefined;
  readonly role: 'fix' | 'keep';
  readonly mentions: Mention[];
  sketch: Sketch;
}

export interface PointChoices {
  readonly join: Choice[];
  readonly takeBack: Choice[];
}

/**
 * Walks through a critique as the notes stage does and asks at each mention which earlier point it is about, and at each
 * taking back which point is meant. `statements` are a person's or a model's; `opens` tells where mentions begin.
 */
export function pointChoices(
  prepared: Prepared,
  language: Language,
  statements: readonly Statement[],
  opens?: Opens,
): PointChoices {
  const reading = readForNotes(prepared.transcript, statements, prepared.shot, language);
  const points: Met[] = [];
  const choices: PointChoices = { join: [], takeBack: [] };
  const add = (
    to: Choice[],
    alternatives: readonly { index: number | null; features: Choice['alternatives'][number] }[],
    id: string | undefined,
  ): void => {
    const meant = alternatives.findIndex(
      ({ index }) => index !== null && id !== undefined && points[index]?.id === id,
    );
    to.push({ alternatives: alternatives.map((one) => one.features), chosen: Math.max(0, meant) });
  };
  const groups = groupTakebacks(statements);
  let next = 0;
  const takeUntil = (start: number): void => {
    for (; next < groups.length && (groups[next]?.[0]?.start ?? 0) <= start; next++) {
      const group = groups[next] ?? [];
      const taken = sketch(reading, 'fix', [group]);
      const open = points.map((one) => one.sketch);
      add(choices.takeBack, takeBackAlternatives(taken, open), noteHeard(prepared, group, ['drop']));
    }
  };
  for (const mention of groupMentions(statements, opens)) {
    takeUntil(mention.statements[0]?.start ?? 0);
    const id = noteHeard(prepared, mention.statements, ['fix', 'keep', 'why']);
    const fresh = sketch(reading, mention.role, [mention.statements]);
    add(
      choices.join,
      joinAlternatives(
        fresh,
        points.map((one) => one.sketch),
      ),
      id,
    );
    const known = points.find((one) => id !== undefined && one.id === id && one.role === mention.role);
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
  takeUntil(Number.POSITIVE_INFINITY);
  return choices;
}

/** The note that a person heard in most of some statements; `roles` are those of the segments that count. */
function noteHeard(
  { critique, segments }: Prepared,
  statements: readonly Statement[],
  roles: readonly string[],
): string | undefined {
  const seconds = new Map<string | undefined, number>();
  segments.forEach((segment, i) => {
    const { note, role = '' } = critique.segments[i] ?? {};
    const heard = roles.includes(role) ? note : undefined;
    for (const statement of statements) {
      const shared = overlapSeconds(segment, statement);
      if (shared > 0) seconds.set(heard, (seconds.get(heard) ?? 0) + shared);
    }
  });
  return [...seconds].sort((a, b) => b[1] - a[1])[0]?.[0];
}
