import type { Language } from '../language/language.ts';
import type { CarriedNote, Previous } from '../sheet/previous.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Ticks } from '../sheet/ticks.ts';
import { FactReader, type Facts } from './facts.ts';
import { type Likeness, likelihood, likenessOf } from './likeness.ts';
import { type OpenNote, openNotes, settledNotes } from './open-notes.ts';
import { type Passage, PRAISED, passagesOf } from './passages.ts';

/** At least this likely, a passage is about a note. */
const LIKELY = 0.5;
/** A note that a new one is likelier about keeps it; another needs to be as likely as this to share it. */
const LIKELY_SHARED = 0.85;
/** What words that look back add: odds of e to the power of this that some old note is meant. */
const LOOKS_BACK_ODDS = 0.9;

/** A passage that may be about an old note. */
interface Claim {
  readonly open: number;
  readonly passage: Passage;
  readonly likeness: Likeness;
  readonly likely: number;
}

/**
 * What a new recording of a shot says of the notes of an older one: each is done, still there, taken back, or not
 * mentioned, with how sure that is. The lexicon's words for what was mended and what is still there decide first, a new
 * note about the same thing second; praise for the very fault that was asked to be mended counts as done, weakly.
 *
 * @param ticks What the animator ticked off of the older sheet; it is told beside the verdicts and changes none of them.
 */
export function compareSheets(older: Sheet, newer: Sheet, language: Language, ticks?: Ticks): Previous {
  const reader = new FactReader(language);
  const open = openNotes(older, ticks);
  const facts = [...open.map(({ note }) => note), ...settledNotes(older)].map((note) => reader.ofNote(note));
  const all = weighAll(facts, passagesOf(newer, reader));
  const claims = settle(all);
  const notes = open.map((one, i) => {
    const own = claims.filter((claim) => claim.open === i);
    const nearest = Math.max(0, ...all.filter((claim) => claim.open === i).map(({ likely }) => likely));
    return own.length > 0 ? carried(one, own) : notMentioned(one, nearest);
  });
  const again = new Set(notes.flatMap(({ newNote }) => newNote ?? []));
  return {
    recording: { file: older.recording.file, sha256: older.recording.sha256 },
    shot: older.shot.name,
    notes,
    fresh: newer.notes
      .filter((note) => note.role === 'fix' && !note.withdrawn && !again.has(note.id))
      .map((note) => note.id),
  };
}

/** How likely each passage is about each old note. */
function weighAll(facts: readonly Facts[], passages: readonly Passage[]): Claim[] {
  const holders = new Map<string, number>();
  for (const { words } of facts)
    for (const stem of words.keys()) holders.set(stem, (holders.get(stem) ?? 0) + 1);
  return passages.flatMap((passage) =>
    facts.map((old, open): Claim => {
      const likeness = likenessOf(old, passage.facts, holders);
      const likely = passage.looksBack ? raised(likeness.likely) : likeness.likely;
      return { open, passage, likeness, likely };
    }),
  );
}

/** The claims that hold: a passage goes to the note it is likeliest about, and to others only where they are near certain. */
function settle(all: readonly Claim[]): Claim[] {
  const taken = new Set<Passage>();
  return all
    .filter(
      ({ likely, passage, likeness }) => likely >= LIKELY && (passage.why !== PRAISED || likeness.telling),
    )
    .sort((a, b) => b.likely - a.likely)
    .filter(({ passage, likely }) => {
      const isFree = !taken.has(passage) || likely >= LIKELY_SHARED;
      taken.add(passage);
      return isFree;
    });
}

/** The likelihood where words look back too. */
function raised(likely: number): number {
  return likelihood(Math.log(likely / (1 - likely)) + LOOKS_BACK_ODDS);
}

/** @param nearest how likely the passage that comes nearest is about the note all the same */
function notMentioned({ note, asked, ticked }: OpenNote, nearest: number): CarriedNote {
  return {
    note,
    verdict: 'not-mentioned',
    confidence: thousandths(1 - nearest),
    asked,
    newNote: null,
    said: [],
    reasons: ['nothing in the new recording is surely about it'],
    ticked,
  };
}

/** The verdict over one old note: of its claims the one that is likeliest and surest together. */
function carried({ note, asked, ticked }: OpenNote, claims: readonly Claim[]): CarriedNote {
  const weigh = ({ likely, passage }: Claim): number => likely * passage.certain;
  const surest = claims.reduce((a, b) => (weigh(b) > weigh(a) ? b : a));
  // "I asked for a blink. Forget that": what takes back is about what was said before it.
  const best = claims.find(({ passage }) => takesBackAfter(passage, surest.passage)) ?? surest;
  const { passage, likeness } = best;
  const { verdict } = passage;
  const whole = claims.find((claim) => claim.passage.isWholeNote && claim.passage.verdict === verdict);
  return {
    note,
    verdict,
    confidence: thousandths(weigh(best)),
    asked: verdict === 'still-there' ? asked + 1 : asked,
    newNote: verdict === 'done' ? null : ((whole?.passage.note ?? passage.note)?.id ?? null),
    said: [...passage.said],
    reasons: [passage.why, ...likeness.reasons],
    ticked,
  };
}

function takesBackAfter(passage: Passage, other: Passage): boolean {
  return passage.verdict === 'taken-back' && startOf(passage) > startOf(other);
}

function startOf({ said }: Passage): number {
  return said[0]?.start ?? 0;
}

function thousandths(value: number): number {
  return Math.round(value * 1000) / 1000;
}
