import type { CarriedNote, Verdict } from '../../src/sheet/previous.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { noteOf, sheetOf } from '../corrections/sheet-of.ts';

/** A sheet of a third version: of the notes before, two are mended, and one each still there, taken back, not mentioned. */
export function laterSheet(): Sheet {
  const sheet = sheetOf([
    { say: 'the left heel is still skating', issue: 'contact', frames: [1040, 1052] },
    { say: 'the hat does not pop any more' },
    { say: 'forget the scarf it is fine' },
    { say: 'and now the brow is late', issue: 'timing', frames: [1060, 1062] },
  ]);
  const said = (at: number) => {
    const { start, end, text } = sheet.statements[at] ?? { start: 0, end: 0, text: '' };
    return [{ start, end, text }];
  };
  const old = (title: string, verdict: Verdict, more: Partial<CarriedNote> = {}): CarriedNote => ({
    note: { ...noteOf(sheet, 'n2'), title, frames: null },
    verdict,
    confidence: 0.9,
    asked: 1,
    newNote: null,
    said: [],
    reasons: [],
    ticked: null,
    ...more,
  });
  const heel = { ...noteOf(sheet, 'n1'), id: 'n7', title: 'Plant the left heel' };
  const at = '2026-01-01T00:00:00.000Z';
  sheet.previous = {
    recording: { file: 'v2.wav', sha256: 'cd34' },
    shot: 'bk12',
    notes: [
      old('', 'still-there', { note: heel, asked: 3, newNote: 'n1', said: said(0), ticked: at }),
      old('Settle the hat', 'done', { asked: 2, said: said(1), ticked: at }),
      old('Straighten the bow', 'done', { confidence: 0.4, said: said(1) }),
      old('Loosen the scarf', 'taken-back', { said: said(2), newNote: 'gone since' }),
      old('Lift the lamp', 'not-mentioned', { asked: 2 }),
    ],
    fresh: ['n2'],
  };
  return sheet;
}
