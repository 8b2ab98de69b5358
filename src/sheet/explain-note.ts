import { minutesStamp } from '../basics/time.ts';
import type { Language } from '../language/language.ts';
import type { Hit } from '../language/lexicon.ts';
import { MEANS_NOTHING } from '../language/lexicon.ts';
import { rangeOfWords, readTalk, type Talk } from '../language/talk.ts';
import type { Note, Quote } from '../notes/note.ts';
import type { Sheet } from './sheet.ts';
import { amountOfNote, faultOfNote, framesOfNote, placeOfNote, weightOfNote } from './writers/wording.ts';

/** Words of a span may begin or end so far outside it, in seconds: a sheet's times are rounded. */
const ROUNDING_SECONDS = 0.01;

/**
 * Why a note reads as it does, in lines of plain text: its words, what the lexicons found in them and by which phrase, and each
 * tag with how sure it is and what else it may be.
 */
export function explainNote(sheet: Sheet, note: Note, language: Language): string[] {
  const talk = readTalk(sheet.words, language);
  const hits = note.spans.flatMap((span) => hitsInSpan(talk, span));
  return [
    `${note.id}, ${note.withdrawn ? 'taken back' : `${note.role}, rank ${note.rank}`}: ${note.title}`,
    '',
    'Heard:',
    ...note.spans.map((span) => `  ${minutesStamp(span.start)} "${span.text}"`),
    '',
    'Found in these words (lexicon, meaning: what was said, by which phrase):',
    ...foundLines(talk, hits),
    '',
    'Read as:',
    ...readings(sheet, note).map((line) => `  ${line}`),
    '',
    `Ranked with ${note.priority.score} of 10: ${note.priority.reasons.join(', ') || 'nothing said of its weight'}.`,
    note.check.length > 0 ? `To look at: ${note.check.join('; ')}.` : 'Nobody need look at it.',
  ];
}

function hitsInSpan(talk: Talk, { start, end }: Quote): Hit[] {
  const inside = (word: { start: number; end: number }): boolean =>
    word.start >= start - ROUNDING_SECONDS && word.end <= end + ROUNDING_SECONDS;
  const first = talk.words.findIndex(inside);
  const last = talk.words.findLastIndex(inside);
  const range = first < 0 ? null : rangeOfWords(talk, first, last);
  if (!range) return [];
  return talk.hits.filter(
    (hit) => hit.first >= range.first && hit.last <= range.last && hit.means !== MEANS_NOTHING,
  );
}

function foundLines(talk: Talk, hits: readonly Hit[]): string[] {
  const lines = new Map<string, string[]>();
  for (const { lexicon, means, phrase, first, last } of hits) {
    const said = talk.tokens
      .slice(first, last + 1)
      .map((token) => token.form)
      .join(' ');
    const key = `${lexicon}, ${means}`;
    const text = said === phrase ? `"${said}"` : `"${said}" by "${phrase}"`;
    const known = lines.get(key) ?? [];
    if (!known.includes(text)) lines.set(key, [...known, text]);
  }
  if (lines.size === 0) return ['  nothing: the tags come from the words alone'];
  return [...lines].sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, said]) => `  ${key}: ${said.join(', ')}`);
}

function readings({ shot }: Sheet, note: Note): string[] {
  const sure = (share: number): string => `${Math.round(share * 100)} % sure`;
  const { confidence } = note;
  return [
    `${note.role === 'fix' ? 'something to change' : 'something to keep'} (${sure(confidence.role)})`,
    `fault: ${faultOfNote(note) ?? 'none told'} (${sure(confidence.issue)})`,
    `where: ${placeOfNote(note) ?? 'not said'} (${sure(confidence.body)})`,
    `meant: ${weightOfNote(note)} (craft or taste ${sure(confidence.basis)}, strength ${sure(confidence.strength)})`,
    `frames: ${note.frames ? framesOfNote(note, shot) : 'none'} (${sure(confidence.frames)})`,
    `amount: ${amountOfNote(note) ?? 'none'}`,
    ...note.options.map((option) => `a way out: ${option}`),
  ];
}
