import type { Sheet } from '../../sheet.ts';
import { type OldLine, sinceLast } from '../since-last.ts';
import { escapeMarkdown } from './escape.ts';

/** What became of the notes of the recording before, in groups; null where there was none, or it had no notes. */
export function sinceLastTime(sheet: Sheet): string | null {
  const since = sinceLast(sheet);
  if (!since) return null;
  const groups = since.groups.map(({ title, lines }) => `### ${title}\n\n${lines.map(line).join('\n')}`);
  return [escapeMarkdown(since.says), ...groups].join('\n\n');
}

function line({ says, facts, said, now }: OldLine): string {
  const all = [...facts, ...(now ? [`note ${now.rank}`] : [])];
  const more = all.length > 0 ? ` (${all.join(', ')})` : '';
  return `- ${escapeMarkdown(says)}${more}${said === null ? '' : `: "${escapeMarkdown(said)}"`}`;
}
