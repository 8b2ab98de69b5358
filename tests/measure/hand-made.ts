import type { Answer } from '../../src/measure/align.ts';
import type { Critique, GoldNote } from '../../src/measure/critique.ts';
import type { Note } from '../../src/notes/note.ts';
import type { Statement } from '../../src/statements/statement.ts';

/** Every second from 0 on is one segment and one statement. */
const SAID: readonly [role: Statement['role'], note?: string][] = [
  ['fix', 'n1'],
  ['why', 'n1'],
  ['fix', 'n2'],
  ['keep', 'n3'],
  ['aside'],
  ['fix', 'n4'],
  ['drop', 'n4'],
  ['fix', 'n1'],
];
const HEARD: readonly Statement['role'][] = ['fix', 'fix', 'fix', 'keep', 'aside', 'fix', 'drop', 'fix'];

const PLAIN: GoldNote = {
  role: 'fix',
  withdrawn: false,
  character: null,
  body: [],
  side: null,
  issue: 'pose',
  basis: 'technical',
  strength: 'should',
  frames: null,
  amount: null,
  alternatives: 0,
  tier: 2,
};

export const CRITIQUE: Critique = {
  name: 'by-hand',
  fps: 24,
  shot: { first: 1, last: 90, characters: [{ name: 'Ada', words: ['she'] }], dialogue: [] },
  segments: SAID.map(([role, note], i) => ({
    say: `words of second ${i}`,
    pause: 0,
    role,
    ...(note ? { note } : {}),
  })),
  notes: {
    n1: {
      ...PLAIN,
      character: 'Ada',
      body: ['hips', 'knee'],
      side: 'left',
      issue: 'weight',
      issue2: 'timing',
      strength: 'must',
      frames: [10, 14],
      amount: { min: 2, max: 2, unit: 'frames', what: 'add' },
      tier: 1,
    },
    n2: { ...PLAIN, character: 'Ada', body: ['hand'], issue: 'pop', alternatives: 2 },
    n3: { ...PLAIN, role: 'keep', body: ['head'], basis: 'taste', tier: 0 },
    n4: { ...PLAIN, withdrawn: true, issue: 'blink', tier: 3 },
  },
};

/** A note made from some seconds of the talk, every tag 0.8 sure. */
export function noteOf(id: string, rank: number, seconds: readonly number[], tags: Partial<Note> = {}): Note {
  return {
    id,
    rank,
    title: `Note ${id}`,
    role: 'fix',
    basis: 'technical',
    strength: 'should',
    character: null,
    body: [],
    issue: 'pose',
    issueAlternatives: [],
    frames: null,
    amount: null,
    options: [],
    withdrawn: false,
    mentions: 1,
    spans: seconds.map((start) => ({ start, end: start + 1, text: `heard at ${start}` })),
    priority: { score: 1, reasons: [] },
    confidence: { role: 0.8, issue: 0.8, body: 0.8, basis: 0.8, strength: 0.8, frames: 0.8 },
    check: [],
    ...tags,
  };
}

/** What was made of n1: a part, the basis and the amount are wrong. */
export const A = noteOf('a', 2, [0, 1, 7], {
  character: 'Ada',
  body: [
    { part: 'hips', side: 'left' },
    { part: 'hand', side: null },
  ],
  issue: 'timing',
  basis: 'taste',
  strength: 'must',
  frames: { first: 11, last: 15, source: 'spoken', confidence: 0.8 },
  amount: { min: 2, max: 3, unit: 'frames', what: 'add' },
  check: ['basis: a matter of taste, or an error of craft'],
});
/** Of n2: role, character and the first issue are wrong, and frames are given that nobody said. */
export const B = noteOf('b', 3, [2], {
  role: 'keep',
  body: [{ part: 'hand', side: null }],
  issue: 'spacing',
  issueAlternatives: ['arc', 'pop'],
  frames: { first: 5, last: 6, source: 'spoken', confidence: 0.8 },
  options: ['one', 'other'],
});
/** Of n3: all is right. */
export const C = noteOf('c', 4, [3], { role: 'keep', body: [{ part: 'head', side: null }] });
/** Of n4, which was taken back. */
export const D = noteOf('d', 5, [5], { issue: 'blink', withdrawn: true });
/** Of an aside. */
export const E = noteOf('e', 1, [4]);

/** The hand-made critique as it was read, with these notes. */
export function answerWith(...notes: readonly Note[]): Answer {
  return {
    critique: CRITIQUE,
    times: SAID.map((_, i) => ({ start: i, end: i + 1 })),
    statements: HEARD.map((role, i) => ({
      id: `s${i + 1}`,
      start: i,
      end: i + 1,
      text: `heard at ${i}`,
      role,
      confidence: 0.9,
      firstWord: i,
      lastWord: i,
      opening: 0,
      repairs: [],
    })),
    notes: [...notes],
  };
}
