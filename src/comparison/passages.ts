import type { Hit } from '../language/lexicon.ts';
import { type Token, tokensOfText } from '../language/tokens.ts';
import type { Note, Quote } from '../notes/note.ts';
import type { Verdict } from '../sheet/previous.ts';
import type { Sheet, SheetStatement } from '../sheet/sheet.ts';
import type { FactReader, Facts } from './facts.ts';

/** A stretch of the new recording that may be about an old note. */
export interface Passage {
  readonly facts: Facts;
  /** What it says of a note that it is about. */
  readonly verdict: Exclude<Verdict, 'not-mentioned'>;
  /** How surely, 0 to 1. */
  readonly certain: number;
  /** What speaks for the verdict, in plain words. */
  readonly why: string;
  /** Whether words that look back to the last recording were said: then an old note is meant. */
  readonly looksBack: boolean;
  /** The note that the passage is, or stands in. */
  readonly note: Note | null;
  readonly isWholeNote: boolean;
  readonly said: readonly Quote[];
}

/** Better than last time, and yet something is asked for. */
const ASKING: ReadonlySet<string> = new Set(['asks-change', 'names-fault']);

type LookingBack = 'fixed-since-last' | 'still-there' | 'takes-back';

/** The reason of a passage that only praises. */
export const PRAISED = 'praised now';

/**
 * How sure a verdict is by what it rests on; set by hand, like the odds of likeness. Words that look back are surer than the
 * role that a stretch was read as: "thank you for fixing the slip" is often taken for a fix.
 */
const CERTAIN = {
  word: 0.95,
  wordInFix: 0.75,
  takenBackOutright: 0.95,
  takenBackPerhaps: 0.7,
  asked: 0.85,
  askedThoughMended: 0.6,
  withdrawn: 0.9,
  praised: 0.6,
};
/** A passage with fewer telling words than this names nothing: what it is about was said just before. */
const NAMING_WORDS = 1;

/** The new notes, and the statements and parts of statements in which something is said of the last recording. */
export function passagesOf(sheet: Sheet, reader: FactReader): Passage[] {
  const notes = sheet.notes.map((note) => notePassage(note, reader));
  const statements = sheet.statements.flatMap((statement, i) =>
    lookingBack(statement, sheet.statements[i - 1], sheet, reader),
  );
  return [...notes, ...statements];
}

function notePassage(note: Note, reader: FactReader): Passage {
  const facts = reader.ofNote(note);
  const common = { facts, note, isWholeNote: true, said: note.spans };
  const all = note.spans.flatMap(({ text }) => reader.hits(tokensOfText(text)));
  const hits = hitsBack(all);
  const asks = all.some(({ lexicon, means }) => lexicon === 'roles' && ASKING.has(means));
  const isMended = hits.some(({ means }) => means === 'fixed-since-last');
  const isThere = hits.some(({ means }) => means === 'still-there');
  const looksBack = isMended || isThere;
  if (note.withdrawn) {
    return {
      ...common,
      verdict: 'taken-back',
      certain: CERTAIN.withdrawn,
      why: 'asked for and taken back',
      looksBack,
    };
  }
  if (note.role === 'fix') {
    const certain = isMended && !isThere && !asks ? CERTAIN.askedThoughMended : CERTAIN.asked;
    return { ...common, verdict: 'still-there', certain, why: 'asked for again', looksBack };
  }
  return isMended
    ? { ...common, verdict: 'done', certain: CERTAIN.word, why: 'said to be mended', looksBack }
    : { ...common, verdict: 'done', certain: CERTAIN.praised, why: PRAISED, looksBack: false };
}

/** Each part of a statement that looks back to the last recording. */
function lookingBack(
  statement: SheetStatement,
  before: SheetStatement | undefined,
  sheet: Sheet,
  reader: FactReader,
): Passage[] {
  if (statement.role === 'shot') return [];
  const tokens = tokensOfText(statement.text);
  const back = hitsBack(reader.hits(tokens));
  if (back.length === 0) return [];
  const note = sheet.notes.find(({ id }) => id === statement.note) ?? null;
  return clauses(tokens, back).map(({ means, from, end }): Passage => {
    const own = reader.ofTokens(tokens.slice(from, end));
    const named = own.parts.size > 0 || own.issues.size > 0 || sum(own.words) >= NAMING_WORDS;
    const wider = !named && from === 0 && before && before.role !== 'shot';
    const facts = wider ? reader.ofTokens(tokensOfText(`${before.text} ${statement.text}`)) : own;
    const said = (wider ? [before, statement] : [statement]).map(({ start, end, text }) => ({
      start,
      end,
      text,
    }));
    const rest = {
      facts: { ...facts, character: note?.character ?? null },
      note,
      isWholeNote: false,
      said,
      looksBack: true,
    };
    if (means === 'takes-back') {
      const certain = statement.role === 'drop' ? CERTAIN.takenBackOutright : CERTAIN.takenBackPerhaps;
      return { ...rest, verdict: 'taken-back', certain, why: 'taken back' };
    }
    if (means === 'still-there') {
      return { ...rest, verdict: 'still-there', certain: CERTAIN.word, why: 'said to be there still' };
    }
    const certain = statement.role === 'fix' ? CERTAIN.wordInFix : CERTAIN.word;
    return { ...rest, verdict: 'done', certain, why: 'said to be mended' };
  });
}

interface BackHit extends Hit {
  readonly means: LookingBack;
}

function hitsBack(hits: readonly Hit[]): BackHit[] {
  return hits.flatMap((hit): BackHit[] => {
    const { lexicon, means } = hit;
    if (lexicon !== 'roles') return [];
    return means === 'fixed-since-last' || means === 'still-there' || means === 'takes-back'
      ? [{ ...hit, means }]
      : [];
  });
}

/** Cuts a statement in which two different things are said, at the last stop between them or else half-way. */
function clauses(
  tokens: readonly Token[],
  hits: readonly BackHit[],
): { means: LookingBack; from: number; end: number }[] {
  const ordered = [...hits].sort((a, b) => a.first - b.first);
  const parts: { means: LookingBack; from: number; end: number }[] = [];
  let lastHit: BackHit | undefined;
  for (const hit of ordered) {
    const current = parts.at(-1);
    if (current && lastHit && hit.means !== current.means) {
      const cut = cutBetween(tokens, lastHit.last, hit.first);
      current.end = cut;
      parts.push({ means: hit.means, from: cut, end: tokens.length });
    } else if (!current) parts.push({ means: hit.means, from: 0, end: tokens.length });
    lastHit = hit;
  }
  return parts;
}

function cutBetween(tokens: readonly Token[], last: number, first: number): number {
  for (let i = first - 1; i >= last; i--) if (tokens[i]?.stop) return i + 1;
  return Math.max(last + 1, Math.ceil((last + first + 1) / 2));
}

function sum(weights: ReadonlyMap<string, number>): number {
  return [...weights.values()].reduce((total, weight) => total + weight, 0);
}
