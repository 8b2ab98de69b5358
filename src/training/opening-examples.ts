import { overlapSeconds } from '../basics/span.ts';
import type { Language } from '../language/language.ts';
import { factsOf, openingFeatures } from '../notes/openings.ts';
import { readForNotes } from '../notes/reading.ts';
import type { Statement } from '../statements/statement.ts';
import type { Example } from './examples.ts';
import type { Prepared } from './prepare.ts';

/**
 * Walks through a critique as models that had not seen it read it, and asks at each fix or keep that follows another of its kind
 * whether a person heard a new point begin.
 */
export function openingExamples(
  prepared: Prepared,
  language: Language,
  statements: readonly Statement[],
): Example[] {
  const { transcript, shot } = prepared;
  const reading = readForNotes(transcript, statements, shot, language);
  const facts = factsOf(reading);
  const examples: Example[] = [];
  let current: Statement[] = [];
  let note: string | undefined;
  let role: string | undefined;
  let interruption = 0;
  statements.forEach((statement, i) => {
    if (statement.role === 'why') {
      current.push(statement);
      return;
    }
    if (statement.role !== 'fix' && statement.role !== 'keep') {
      interruption += 1;
      return;
    }
    const own = noteOf(prepared, statement);
    if (role === statement.role && interruption <= 3 && own !== undefined && note !== undefined) {
      examples.push({
        features: openingFeatures(reading, facts, current, statement, statements[i + 1], interruption > 0),
        label: own === note ? 'goes on' : 'opens',
      });
    }
    if (role !== statement.role || interruption > 3 || own !== note) current = [];
    current.push(statement);
    [role, interruption, note] = [statement.role, 0, own ?? note];
  });
  return examples;
}

/** The note that a person heard in a statement: that of the segment it shares most time with. */
function noteOf({ critique, segments }: Prepared, statement: Statement): string | undefined {
  let found: string | undefined;
  let most = 0;
  segments.forEach((segment, i) => {
    const seconds = overlapSeconds(segment, statement);
    if (seconds > most) [most, found] = [seconds, critique.segments[i]?.note];
  });
  return found;
}
