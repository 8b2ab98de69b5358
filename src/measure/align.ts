import { sharedSeconds } from '../basics/shared-seconds.ts';
import { overlapSeconds, type Span } from '../basics/span.ts';
import type { Note } from '../notes/note.ts';
import type { Statement } from '../statements/statement.ts';
import type { Critique, GoldNote } from './critique.ts';

/** A labelled critique beside what was understood of it. */
export interface Answer {
  readonly critique: Critique;
  /** When each segment of the critique was said, in the order of its segments. */
  readonly times: readonly Span[];
  readonly statements: readonly Statement[];
  readonly notes: readonly Note[];
}

/** A note of a labelled critique, and where it was spoken. Takings back are no part of the note that they take back. */
export interface GoldSpoken {
  readonly id: string;
  readonly label: GoldNote;
  readonly spans: readonly Span[];
  readonly words: string;
}

/** Which note answers which gold note: one to one, so that a note split in two leaves one half unanswered. */
export interface Alignment {
  readonly gold: readonly GoldSpoken[];
  readonly noteOf: ReadonlyMap<GoldSpoken, Note>;
  readonly goldOf: ReadonlyMap<Note, GoldSpoken>;
}

/** Spoken spans that share less than this of their union are about different things. */
const LEAST_IOU = 0.2;

/**
 * Pairs the gold notes of a critique with the notes found, those that share most of their spoken time first
 * (intersection over union of seconds, at least 0.2).
 */
export function alignNotes({ critique, times, notes }: Answer): Alignment {
  const gold = spokenNotes(critique, times);
  const pairs = gold
    .flatMap((one) => notes.map((note) => ({ one, note, iou: iouOf(one.spans, note.spans) })))
    .filter(({ iou }) => iou >= LEAST_IOU)
    .sort((a, b) => b.iou - a.iou);
  const noteOf = new Map<GoldSpoken, Note>();
  const goldOf = new Map<Note, GoldSpoken>();
  for (const { one, note } of pairs) {
    if (noteOf.has(one) || goldOf.has(note)) continue;
    noteOf.set(one, note);
    goldOf.set(note, one);
  }
  return { gold, noteOf, goldOf };
}

/** Intersection over union of two sets of spans, in seconds; spans of one set are taken not to overlap. */
export function iouOf(a: readonly Span[], b: readonly Span[]): number {
  const shared = sharedSeconds(a, b);
  const union = secondsOf(a) + secondsOf(b) - shared;
  return union > 0 ? shared / union : 0;
}

/** The statement that shares most time with a span, the earlier of equals; null where none touches it. */
export function statementAt(statements: readonly Statement[], span: Span): Statement | null {
  let best: Statement | null = null;
  let most = 0;
  for (const statement of statements) {
    const seconds = overlapSeconds(statement, span);
    if (seconds > most) [best, most] = [statement, seconds];
  }
  return best;
}

/** Notes that only a taking back speaks of have no place in the talk, and are left out. */
function spokenNotes({ segments, notes }: Critique, times: readonly Span[]): GoldSpoken[] {
  return Object.entries(notes).flatMap(([id, label]) => {
    const own = segments.flatMap(({ note, role, say }, i) => {
      const span = times[i];
      return span && note === id && role !== 'drop' ? [{ span, say }] : [];
    });
    if (own.length === 0) return [];
    return [{ id, label, spans: own.map(({ span }) => span), words: own.map(({ say }) => say).join(' ') }];
  });
}

function secondsOf(spans: readonly Span[]): number {
  return spans.reduce((sum, { start, end }) => sum + end - start, 0);
}
