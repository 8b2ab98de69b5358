import { shotSchema } from '../../src/basics/shot.ts';
import type { ISSUES, PARTS, ROLES, SIDES } from '../../src/basics/terms.ts';
import { type Critique, spokenForm } from '../../src/measure/critique.ts';
import type { Note } from '../../src/notes/note.ts';
import type { Verdict } from '../../src/sheet/previous.ts';
import { type Sheet, sheetSchema } from '../../src/sheet/sheet.ts';

/** What was said in one breath, its role, and the note it went into. */
export type Said = readonly [say: string, role: (typeof ROLES)[number], note?: string];

/** A note's truth: role, part, side, kind of fault, frames, character. */
export interface Truth {
  readonly role?: 'fix' | 'keep';
  readonly part: (typeof PARTS)[number];
  readonly side?: (typeof SIDES)[number];
  readonly issue: (typeof ISSUES)[number];
  readonly frames?: readonly [first: number, last: number];
  readonly character?: string;
  readonly withdrawn?: true;
}

export interface Version {
  readonly said: readonly Said[];
  readonly notes: Readonly<Record<string, Truth>>;
}

/** Two invented critiques of two versions of an invented shot, and what the second says of the fixes of the first. */
export interface Pair {
  readonly name: string;
  readonly characters: readonly { readonly name: string; readonly words: readonly string[] }[];
  readonly old: Version;
  readonly fresh: Version;
  readonly truth: Readonly<Record<string, readonly [verdict: Verdict, newNote?: string]>>;
  /** The new fixes that no old note asked for. */
  readonly news: readonly string[];
}

/** The sheet that a faultless reading would make of one version. */
export function truthSheet(pair: Pair, which: 'old' | 'fresh'): Sheet {
  const version = pair[which];
  const { transcript, segments } = spokenForm(critiqueOf(pair, version));
  const spans = segments.map(({ start, end }, i) => ({ start, end, text: version.said[i]?.[0] ?? '' }));
  const notes = Object.entries(version.notes).map(([id, truth], i): Note => {
    const own = spans.filter((_, k) => version.said[k]?.[2] === id);
    return {
      id,
      rank: i + 1,
      title: own[0]?.text ?? id,
      role: truth.role ?? 'fix',
      basis: 'technical',
      strength: 'should',
      character: truth.character ?? pair.characters[0]?.name ?? null,
      body: [{ part: truth.part, side: truth.side ?? null }],
      issue: truth.issue,
      issueAlternatives: [],
      frames: truth.frames
        ? { first: truth.frames[0], last: truth.frames[1], source: 'spoken', confidence: 1 }
        : null,
      amount: null,
      options: [],
      withdrawn: truth.withdrawn ?? false,
      mentions: 1,
      spans: own,
      priority: { score: 1, reasons: [] },
      confidence: { role: 1, issue: 1, body: 1, basis: 1, strength: 1, frames: 1 },
      check: [],
    };
  });
  return sheetSchema.parse({
    schema: 'critsheet/1',
    recording: {
      ...transcript.recording,
      file: `${pair.name}-${which}.wav`,
      sha256: `${pair.name}-${which}`,
    },
    shot: shotOf(pair),
    model: transcript.model,
    words: transcript.words,
    statements: spans.map((span, i) => ({
      id: `s${i + 1}`,
      ...span,
      role: version.said[i]?.[1] ?? 'aside',
      confidence: 1,
      note: version.said[i]?.[2] ?? null,
    })),
    notes,
  });
}

export function shotOf(pair: Pair) {
  return shotSchema.parse({ name: pair.name, first: 1001, last: 1140, characters: pair.characters });
}

/** A version as a labelled critique, for what only the words are wanted of. */
export function critiqueOf(pair: Pair, version: Version): Critique {
  const characters = pair.characters.map(({ name, words }) => ({ name, words: [...words] }));
  return {
    name: pair.name,
    fps: 24,
    shot: { first: 1001, last: 1140, characters, dialogue: [] },
    segments: version.said.map(([say, role]) => ({ say, role, pause: 0.7 })),
    notes: {},
  };
}
