import { minutesStamp } from '../basics/time.ts';
import { counted } from '../sheet/counted.ts';
import type { CarriedNote, Previous, Verdict } from '../sheet/previous.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { nthTime, oldNote, VERDICT_TITLES } from '../sheet/writers/asked.ts';
import { frameRange } from '../sheet/writers/wording.ts';

/** What a person needs first comes first. */
const ORDER: readonly Verdict[] = ['still-there', 'not-mentioned', 'taken-back', 'done'];

/** A comparison as plain text: a line of counts, then each old note under its verdict with the words that say so, then what is new. */
export function describeComparison(previous: Previous, newer: Sheet): string {
  const groups = ORDER.map((verdict) => ({
    title: VERDICT_TITLES[verdict],
    notes: previous.notes.filter((one) => one.verdict === verdict),
  }));
  const fresh = newer.notes.filter(({ id }) => previous.fresh.includes(id));
  const counts = [
    ...groups.map(({ title, notes }) => `${notes.length} ${title.toLowerCase()}`),
    `${fresh.length} new`,
  ].join(', ');
  const sections = groups.flatMap(({ title, notes }) =>
    notes.length > 0 ? [[`${title}:`, ...notes.map(lines)].join('\n')] : [],
  );
  const news = fresh.map((note) => {
    const frames = frameRange(note);
    return `  ${note.title}${frames ? ` (${frames})` : ''}`;
  });
  return [
    `${counted(previous.notes.length, 'note')} of ${previous.recording.file}: ${counts}.`,
    ...sections,
    ...(news.length > 0 ? [['New:', ...news].join('\n')] : []),
  ].join('\n\n');
}

function lines(carried: CarriedNote): string {
  const { verdict, asked, confidence, reasons, said, ticked } = carried;
  const facts = [
    verdict === 'still-there' && `asked for ${nthTime(asked)}`,
    ticked !== null && `ticked off ${ticked.slice(0, 10)}`,
    `${Math.round(confidence * 100)} % sure`,
    reasons.join(', '),
  ].filter(Boolean);
  const quotes = said.map(({ start, text }) => `\n    ${minutesStamp(start)} "${text}"`);
  return `  ${oldNote(carried)}\n    ${facts.join('; ')}${quotes.join('')}`;
}
