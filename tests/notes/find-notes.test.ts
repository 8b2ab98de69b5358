import { describe, expect, it } from 'vitest';
import { shotSchema } from '../../src/basics/shot.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { type Note, noteSchema } from '../../src/notes/note.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { transcriptOf } from '../language/said.ts';

const language = loadLanguage();
const shot = shotSchema.parse({
  first: 1001,
  last: 1168,
  characters: [{ name: 'the beekeeper', words: ['beekeeper', 'she', 'her'] }],
});

function read(...breaths: string[]) {
  const transcript = transcriptOf(...breaths);
  const statements = findStatements(transcript, shot, language);
  return { transcript, statements, ...findNotes(transcript, statements, shot, language) };
}

const HELLO = 'Hi there, thanks for sending this over.';
const SLIDE = [
  'Her right foot is sliding from ten eighteen to ten twenty-six.',
  'It has to stay planted, so lock that foot to the floor.',
];
const SMILE = ['I love the smile at the end.', "Don't touch that, keep it exactly as it is."];
const ELBOW = ['The left elbow pops on frame ten forty-two.', 'Just ease it over three or four more frames.'];
const PICKY = [
  'And if you have time, super picky, you could maybe open the fingers a touch.',
  'Totally up to you.',
];
const BLINK = ['The blink on ten ninety feels a bit late.', 'Maybe move it two frames earlier.'];
const BYE = "Okay, that's it from me, great work.";

const about = (notes: readonly Note[], words: RegExp): Note | undefined =>
  notes.find(({ spans }) => spans.some(({ text }) => words.test(text)));

describe('a note', () => {
  it('is made of a plain fix', () => {
    const { notes } = read(HELLO, ...SLIDE, BYE);
    expect(about(notes, /right foot/)).toMatchObject({
      role: 'fix',
      rank: 1,
      issue: 'contact',
      character: 'the beekeeper',
      body: [{ part: 'foot', side: 'right' }],
      frames: { first: 1018, last: 1026, source: 'spoken' },
      withdrawn: false,
    });
  });

  it('carries its amount', () => {
    const { notes } = read(HELLO, ...ELBOW, BYE);
    const note = about(notes, /left elbow/);
    expect(note).toMatchObject({
      body: [{ part: 'elbow', side: 'left' }],
      frames: { first: 1042, last: 1042 },
    });
    expect(note?.amount).toMatchObject({ min: 3, max: 4, unit: 'frames' });
  });

  it('is made of a plain keep, which asks for nothing', () => {
    const { notes } = read(HELLO, ...SLIDE, ...SMILE, BYE);
    expect(about(notes, /smile/)).toMatchObject({ role: 'keep', amount: null, options: [] });
  });

  it('is made of no chatter', () => {
    const { notes } = read(HELLO, 'Let me just play it again.', 'Ha, that made me laugh.', BYE);
    expect(notes).toEqual([]);
  });
});

describe('the order of the notes', () => {
  const { notes, statements, transcript, noteOfStatement } = read(
    HELLO,
    ...PICKY,
    ...SMILE,
    ...BLINK,
    ...SLIDE,
    'That foot is the main thing, fix that first.',
    ...ELBOW,
    BYE,
  );

  it('puts fixes first and keeps after them', () => {
    const roles = notes.map(({ role }) => role);
    expect(roles).toEqual([...roles].sort());
    expect(new Set(roles)).toEqual(new Set(['fix', 'keep']));
    expect(notes.map(({ rank }) => rank)).toEqual(notes.map((_, i) => i + 1));
  });

  it('puts what the mentor called the main thing first and what is optional last among the fixes', () => {
    const fixes = notes.filter(({ role, withdrawn }) => role === 'fix' && !withdrawn);
    expect(fixes[0]?.spans.map(({ text }) => text).join(' ')).toContain('right foot');
    expect(
      fixes
        .at(-1)
        ?.spans.map(({ text }) => text)
        .join(' '),
    ).toContain('fingers');
    expect(fixes.at(-1)?.strength).toBe('could');
  });

  it('says why', () => {
    expect(notes[0]?.priority.reasons).toContain('called the main thing');
  });

  it('gives each note an id of its own and a whole record', () => {
    expect(new Set(notes.map(({ id }) => id)).size).toBe(notes.length);
    for (const note of notes) expect(noteSchema.parse(note)).toEqual(note);
  });

  it('quotes only what was said, where it was said', () => {
    const talk = transcript.words.map(({ text }) => text).join(' ');
    for (const { start, end, text } of notes.flatMap(({ spans }) => spans)) {
      expect(talk).toContain(text);
      const inside = transcript.words.filter((word) => word.start >= start && word.end <= end);
      expect(inside.map((word) => word.text).join(' ')).toBe(text);
    }
  });

  it('knows of every fix and keep which note it went into', () => {
    const ids = new Set(notes.map(({ id }) => id));
    for (const { id, role } of statements) {
      const note = noteOfStatement.get(id);
      if (role === 'fix' || role === 'keep') expect(ids).toContain(note);
      if (role === 'aside') expect(note).toBeUndefined();
    }
  });
});

describe('a talk without words', () => {
  it('has no notes', () => {
    const { notes, noteOfStatement } = read('');
    expect(notes).toEqual([]);
    expect(noteOfStatement.size).toBe(0);
  });

  it('has none in a shot of which nothing is known either', () => {
    const transcript = transcriptOf('');
    expect(findNotes(transcript, [], shotSchema.parse({}), language).notes).toEqual([]);
  });
});
