import type { Statement } from '../statements/statement.ts';
import type { Opens } from './openings.ts';

/** One stretch of talk about one point: the statements that make it, their reasons included, in order. */
export interface Mention {
  readonly role: 'fix' | 'keep';
  readonly statements: Statement[];
}

/** How many statements of chatter may stand inside one mention. */
const LONGEST_INTERRUPTION = 3;

/**
 * Groups fixes, keeps and reasons that follow each other into mentions, by what the statements say of themselves. A
 * reason that stands before any note goes to the note after it.
 */
export function groupMentions(
  statements: readonly Statement[],
  opens: Opens = (_, statement) => statement.opening >= 0.5,
): Mention[] {
  const mentions: Mention[] = [];
  let waiting: Statement[] = [];
  let interruption = 0;
  statements.forEach((statement, i) => {
    const current = mentions.at(-1);
    if (statement.role === 'why') {
      if (current && interruption <= LONGEST_INTERRUPTION) current.statements.push(statement);
      else waiting.push(statement);
    } else if (statement.role === 'fix' || statement.role === 'keep') {
      const goesOn =
        current?.role === statement.role &&
        interruption <= LONGEST_INTERRUPTION &&
        !opens(current.statements, statement, statements[i + 1], interruption > 0);
      if (current && goesOn) current.statements.push(statement);
      else mentions.push({ role: statement.role, statements: [...waiting, statement] });
      waiting = [];
      interruption = 0;
    } else {
      interruption += 1;
    }
  });
  if (waiting.length > 0) mentions.at(-1)?.statements.push(...waiting);
  return mentions;
}

/** The statements that take something back, grouped where they follow each other. */
export function groupTakebacks(statements: readonly Statement[]): Statement[][] {
  const groups: Statement[][] = [];
  statements.forEach((statement, i) => {
    if (statement.role !== 'drop') return;
    if (statements[i - 1]?.role === 'drop') groups.at(-1)?.push(statement);
    else groups.push([statement]);
  });
  return groups;
}
