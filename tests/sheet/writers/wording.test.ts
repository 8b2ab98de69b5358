import { describe, expect, it } from 'vitest';
import type { BodyPart, Note } from '../../../src/notes/note.ts';
import { amountOfNote, framesOfNote, placeOfNote } from '../../../src/sheet/writers/wording.ts';
import { savedSheet } from '../saved-sheet.ts';

function note(changes: Partial<Note>): Note {
  const [first] = savedSheet().notes;
  if (!first) throw new Error('the saved sheet has no note');
  return { ...first, ...changes };
}

describe('amounts in words', () => {
  it.each([
    [{ min: 3, max: 4, unit: 'frames', what: 'add' }, 'add 3 to 4 frames'],
    [{ min: 1, max: 1, unit: 'frames', what: 'remove' }, 'take away 1 frame'],
    [{ min: 0.5, max: 0.5, unit: 'seconds', what: 'hold' }, 'hold for 0.5 seconds'],
    [{ min: 2, max: 2, unit: 'frames', what: 'earlier' }, '2 frames earlier'],
    [{ min: 2, max: 3, unit: 'frames', what: 'later' }, '2 to 3 frames later'],
    [{ min: 50, max: 50, unit: 'percent', what: 'remove' }, 'take away 50 %'],
    [{ min: 10, max: 10, unit: 'degrees', what: 'add' }, 'add 10 degrees'],
  ] as const)('%j', (amount, words) => expect(amountOfNote(note({ amount }))).toBe(words));

  it('says nothing where no amount was said', () => expect(amountOfNote(note({ amount: null }))).toBeNull());
});

describe('places in words', () => {
  it.each<[BodyPart[], string]>([
    [[{ part: 'knee', side: 'left' }], 'left knee'],
    [[{ part: 'foot', side: 'both' }], 'both feet'],
    [[{ part: 'eyes', side: 'right' }], 'right eye'],
    [[{ part: 'eyes', side: 'both' }], 'both eyes'],
    [[{ part: 'body', side: null }], 'whole figure'],
    [
      [
        { part: 'hand', side: 'right' },
        { part: 'prop', side: null },
      ],
      'right hand, prop',
    ],
  ])('%j', (body, words) => expect(placeOfNote(note({ character: null, body }))).toBe(words));

  it('begins with the character where it was said', () => {
    expect(placeOfNote(note({ character: 'the owl', body: [] }))).toBe('the owl');
    expect(placeOfNote(note({ character: null, body: [] }))).toBeNull();
  });
});

describe('frames in words', () => {
  const { shot } = savedSheet();
  it('counts timecode from the first frame of the shot', () => {
    const frames = { first: 1042, last: 1044, source: 'playback', confidence: 1 } as const;
    expect(framesOfNote(note({ frames }), shot)).toBe(
      '1042 to 1044 (00:00:01:17 to 00:00:01:19), where the shot stood or played',
    );
  });

  it('leaves timecode out at rates that no timecode counts at', () => {
    const frames = { first: 1042, last: 1042, source: 'spoken', confidence: 1 } as const;
    expect(framesOfNote(note({ frames }), { ...shot, fps: 12.5 })).toBe('1042, said aloud');
  });
});
