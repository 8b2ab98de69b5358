import type { CarriedNote, Previous, Verdict } from '../../previous.ts';
import { nthTime, oldNote } from '../asked.ts';
import { escapeMarkdown } from './escape.ts';

const GROUPS: readonly (readonly [Verdict, string])[] = [
  ['done', 'Done'],
  ['still-there', 'Still there'],
  ['taken-back', 'Taken back'],
  ['not-mentioned', 'Not mentioned'],
];

/** What became of the notes of the recording before, in groups; null where there was none, or it had no notes. */
export function sinceLast(previous: Previous | undefined): string | null {
  if (!previous || previous.notes.length === 0) return null;
  const groups = GROUPS.flatMap(([verdict, title]) => {
    const notes = previous.notes.filter((one) => one.verdict === verdict);
    return notes.length > 0 ? [`### ${title}\n\n${notes.map(line).join('\n')}`] : [];
  });
  return [`The notes of ${escapeMarkdown(previous.recording.file)}:`, ...groups].join('\n\n');
}

function line(carried: CarriedNote): string {
  const { verdict, asked, ticked, confidence, said } = carried;
  const facts = [
    asked > 1 && verdict !== 'done' && `asked for ${nthTime(asked)}`,
    ticked !== null && 'ticked off',
    confidence < 0.5 && 'unsure',
  ].filter(Boolean);
  const quote = said[0] ? `: "${escapeMarkdown(said.map(({ text }) => text).join(' '))}"` : '';
  const more = facts.length > 0 ? ` (${facts.join(', ')})` : '';
  return `- ${escapeMarkdown(oldNote(carried))}${more}${quote}`;
}
