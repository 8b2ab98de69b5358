import type { Role } from '../../../basics/terms.ts';
import { counted } from '../../counted.ts';
import type { Sheet, SheetStatement } from '../../sheet.ts';
import { quoteLine } from './note.ts';

const LEFT_OUT: readonly { readonly title: string; readonly roles: readonly Role[] }[] = [
  { title: 'Chatter', roles: ['aside'] },
  { title: "The shot's own dialogue", roles: ['shot'] },
  { title: 'Said, and not tied to a note', roles: ['fix', 'keep', 'why', 'drop'] },
];

/** How much was heard, and every statement that is in no note, so that nothing said is missing from the sheet. */
export function whatWasHeard(sheet: Sheet): string {
  const outside = sheet.statements.filter((statement) => statement.note === null);
  const count = `${counted(sheet.words.length, 'word')} in ${counted(sheet.statements.length, 'statement')}`;
  const groups = LEFT_OUT.flatMap(({ title, roles }) =>
    group(
      title,
      outside.filter(({ role }) => roles.includes(role)),
    ),
  );
  const rest = groups.length > 0 ? 'These are in no note:' : 'Each is in a note above.';
  return ['## What was heard', '', `${count}. ${rest}`, ...groups].join('\n');
}

function group(title: string, statements: readonly SheetStatement[]): string[] {
  if (statements.length === 0) return [];
  return ['', `### ${title}`, '', ...statements.map(({ start, text }) => quoteLine(start, text))];
}
