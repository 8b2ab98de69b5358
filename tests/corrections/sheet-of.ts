import type { z } from 'zod';
import type { Decision, Step } from '../../src/corrections/corrections.ts';
import { anchorOf } from '../../src/corrections/find-note.ts';
import { type Note, noteSchema } from '../../src/notes/note.ts';
import { type Sheet, sheetSchema } from '../../src/sheet/sheet.ts';

/** A sheet of our own: each sentence takes three seconds, its words evenly, and is a statement and, where it has a kind, a note. */
export function sheetOf(
  sentences: readonly {
    say: string;
    issue?: Note['issue'];
    role?: 'fix' | 'keep';
    frames?: [number, number];
  }[],
): Sheet {
  const words = sentences.flatMap(({ say }, i) => {
    const texts = say.split(' ');
    return texts.map((text, j) => ({
      text,
      start: 3 * i + (2.5 * j) / texts.length,
      end: 3 * i + (2.5 * (j + 1)) / texts.length,
      confidence: text.endsWith('?') ? 0.3 : 0.95,
    }));
  });
  const spans = sentences.map(({ say }, i) => ({ start: 3 * i, end: 3 * i + 2.5, text: say }));
  const noted = sentences.flatMap((sentence, i) => (sentence.issue === undefined ? [] : [{ sentence, i }]));
  const input: z.input<typeof sheetSchema> = {
    schema: 'critsheet/1',
    recording: { file: 'talk.wav', sha256: 'ab12', duration: 3 * sentences.length },
    shot: {
      name: 'bk12',
      fps: 24,
      first: 1001,
      last: 1100,
      characters: [{ name: 'the keeper', words: ['she'] }],
      dialogue: [],
    },
    model: { id: 'by hand', sha256: null },
    words,
    statements: spans.map((span, i) => ({
      ...span,
      id: `s${i + 1}`,
      role: sentences[i]?.issue === undefined ? 'aside' : (sentences[i]?.role ?? 'fix'),
      confidence: 0.9,
      note: noted.some((one) => one.i === i) ? `n${noted.findIndex((one) => one.i === i) + 1}` : null,
    })),
    notes: noted.map(({ sentence, i }, at) => ({
      ...plainNote(),
      id: `n${at + 1}`,
      rank: at + 1,
      title: `Note ${at + 1}`,
      role: sentence.role ?? 'fix',
      issue: sentence.issue ?? null,
      frames: sentence.frames
        ? { first: sentence.frames[0], last: sentence.frames[1], source: 'spoken', confidence: 0.9 }
        : null,
      spans: spans.slice(i, i + 1),
      priority: { score: 9 - at, reasons: ['technical'] },
      check: at === 0 ? [] : ['issue: pop or spacing'],
    })),
  };
  return sheetSchema.parse(input);
}

function plainNote(): Note {
  return noteSchema.parse({
    id: 'n1',
    rank: 1,
    title: '',
    role: 'fix',
    basis: 'technical',
    strength: 'should',
    character: null,
    body: [{ part: 'knee', side: 'left' }],
    issue: 'pop',
    issueAlternatives: ['spacing', 'weight'],
    frames: null,
    amount: null,
    options: [],
    withdrawn: false,
    mentions: 1,
    spans: [],
    priority: { score: 5, reasons: [] },
    confidence: { role: 0.9, issue: 0.5, body: 0.8, basis: 0.8, strength: 0.7, frames: 0.9 },
    check: [],
  });
}

/** The sentences that most tests of corrections speak. */
export function talk(): Sheet {
  return sheetOf([
    { say: 'her left knee pops on forty two', issue: 'pop', frames: [1042, 1044] },
    { say: 'let me play it again' },
    { say: 'the helm? is lovely do not touch it', issue: 'acting', role: 'keep' },
    { say: 'soften the stop and lift the hand', issue: 'spacing' },
    { say: 'and the scarf is stuck' },
  ]);
}

export function noteOf(sheet: Sheet, id: string): Note {
  const note = sheet.notes.find((one) => one.id === id);
  if (!note) throw new Error(`no note ${id}`);
  return note;
}

export function anchor(sheet: Sheet, id: string): ReturnType<typeof anchorOf> {
  return anchorOf(noteOf(sheet, id));
}

let count = 0;

/** A decision with an id of its own. */
export function decide(step: Step): Decision {
  count++;
  return { id: `${String(count).padStart(8, '0')}-decision`, at: '2026-01-01T00:00:00.000Z', ...step };
}
