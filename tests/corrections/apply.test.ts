import { describe, expect, it } from 'vitest';
import { applyCorrections, mendWords } from '../../src/corrections/apply.ts';
import type { Decision } from '../../src/corrections/corrections.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { anchor, decide, noteOf, sheetOf, talk } from './sheet-of.ts';

const apply = (sheet: Sheet, ...decisions: Decision[]) =>
  applyCorrections(sheet, decisions, (note) => `${note.role} ${note.issue}`);

describe('what a person decided', () => {
  it('sets fields, is sure, and needs no more looking at', () => {
    const sheet = talk();
    const set = decide({
      do: 'set',
      note: anchor(sheet, 'n3'),
      fields: { issue: 'contact', strength: 'must' },
    });
    const note = noteOf(apply(sheet, set).sheet, 'n3');
    expect(note).toMatchObject({ issue: 'contact', strength: 'must', check: [], title: 'fix contact' });
    expect(note.confidence).toMatchObject({ issue: 1, strength: 1, body: 0.8 });
    expect(note.priority.reasons).toEqual(['has to be done', 'technical']);
  });

  it('keeps a title that a person wrote, whatever else is set after it', () => {
    const sheet = talk();
    const note = anchor(sheet, 'n1');
    const done = apply(
      sheet,
      decide({ do: 'set', note, fields: { title: 'Mind the knee' } }),
      decide({ do: 'set', note, fields: { issue: 'arc' } }),
    );
    expect(noteOf(done.sheet, 'n1').title).toBe('Mind the knee');
  });

  it('turns a keep into a fix, which is then ranked among the fixes', () => {
    const sheet = talk();
    expect(sheet.notes.map(({ id }) => id)).toEqual(['n1', 'n2', 'n3']);
    const done = apply(sheet, decide({ do: 'set', note: anchor(sheet, 'n3'), fields: { role: 'keep' } }));
    expect(done.sheet.notes.map(({ id, rank, role }) => [id, rank, role])).toEqual([
      ['n1', 1, 'fix'],
      ['n2', 2, 'keep'],
      ['n3', 3, 'keep'],
    ]);
  });

  it('mends a misheard word wherever it is quoted', () => {
    const sheet = talk();
    const word = sheet.words.find(({ text }) => text === 'helm?');
    if (!word) throw new Error('no such word');
    const { sheet: done } = apply(sheet, decide({ do: 'word', word, text: 'held pose' }));
    expect(done.statements[2]?.text).toBe('the held pose is lovely do not touch it');
    expect(noteOf(done, 'n2').spans[0]?.text).toBe('the held pose is lovely do not touch it');
    expect(done.words.find(({ text }) => text === 'held pose')).toMatchObject({ confidence: 1 });
    expect(
      mendWords({ ...transcript(sheet) }, [decide({ do: 'word', word, text: 'hold' })]).words[13]?.text,
    ).toBe('hold');
  });

  it('keeps what the recogniser wrote first, under the mending and after it is taken back', () => {
    const sheet = talk();
    const guessed = sheet.words.map((word) => (word.text === 'helm?' ? { ...word, heard: 'elm' } : word));
    const word = guessed.find(({ text }) => text === 'helm?');
    if (!word) throw new Error('no such word');
    const { sheet: done } = apply(
      { ...sheet, words: guessed },
      decide({ do: 'word', word, text: 'held pose' }),
    );
    expect(done.words.find(({ text }) => text === 'held pose')).toMatchObject({
      heard: { text: 'helm?', heard: 'elm' },
    });
    const { sheet: back } = apply(done);
    expect(back.words.find(({ text }) => text === 'helm?')).toMatchObject({ heard: 'elm', confidence: 0.3 });
  });

  it('splits a note inside a sentence, and joins it again', () => {
    const sheet = talk();
    const from = sheet.words.find((word) => word.text === 'lift')?.start ?? 0;
    const split = decide({ do: 'split', note: anchor(sheet, 'n3'), from });
    const { sheet: two } = apply(sheet, split);
    const fresh = two.notes.find(({ id }) => id.startsWith('c-'));
    expect(noteOf(two, 'n3').spans.map(({ text }) => text)).toEqual(['soften the stop and']);
    expect(fresh?.spans.map(({ text }) => text)).toEqual(['lift the hand']);
    const join = decide({ do: 'join', note: anchor(two, 'n3'), with: anchor(two, fresh?.id ?? '') });
    const { sheet: one, unfit } = apply(sheet, split, join);
    expect(unfit).toEqual([]);
    expect(one.notes.map(({ id }) => id)).toEqual(['n1', 'n3', 'n2']);
    expect(noteOf(one, 'n3').spans.map(({ text }) => text)).toEqual(['soften the stop and', 'lift the hand']);
  });

  it('drops a note, whose words stay among what was said', () => {
    const sheet = talk();
    const { sheet: done } = apply(sheet, decide({ do: 'drop', note: anchor(sheet, 'n1') }));
    expect(done.notes.map(({ id, rank }) => [id, rank])).toEqual([
      ['n3', 1],
      ['n2', 2],
    ]);
    expect(done.statements[0]).toMatchObject({ note: null, text: 'her left knee pops on forty two' });
  });

  it('adds a note from words that were in none', () => {
    const sheet = talk();
    const words = { start: 12, end: 14.5, text: 'and the scarf is stuck' };
    const add = decide({ do: 'add', words, role: 'fix' });
    const { sheet: done } = apply(sheet, add);
    const note = done.notes.find(({ id }) => id.startsWith('c-'));
    expect(note?.spans).toEqual([words]);
    expect(done.statements[4]?.note).toBe(note?.id);
    expect(sheetSchema.parse(done)).toEqual(done);
  });

  it('is all undone by undoing, down to the last key', () => {
    const sheet = talk();
    const note = anchor(sheet, 'n1');
    const word = sheet.words[0];
    if (!word) throw new Error('no words');
    const made = [
      decide({ do: 'word', word, text: 'his' }),
      decide({ do: 'set', note, fields: { issue: 'arc' } }),
      decide({ do: 'drop', note: anchor(sheet, 'n2') }),
    ];
    const changed = apply(sheet, ...made).sheet;
    const undone = made.map(({ id }) => decide({ do: 'undo', decision: id }));
    const back = apply(changed, ...made, ...undone).sheet;
    expect(JSON.parse(JSON.stringify(back))).toEqual(JSON.parse(JSON.stringify(sheet)));
    // And an undoing can be undone.
    const again = apply(sheet, ...made, ...undone, decide({ do: 'undo', decision: undone[1]?.id ?? '' }));
    expect(noteOf(again.sheet, 'n1').issue).toBe('arc');
  });
});

describe('a new reading of the same recording', () => {
  it('takes decisions over by the words they are about, not by ids', () => {
    const old = talk();
    const set = decide({ do: 'set', note: anchor(old, 'n3'), fields: { issue: 'contact' } });
    // A better model joins less, hears a little later, and numbers differently.
    const fresh = talk();
    fresh.notes = fresh.notes
      .map((note, i) => ({
        ...note,
        id: `n${9 - i}`,
        spans: note.spans.map((span) => ({ ...span, start: span.start + 0.08, end: span.end + 0.08 })),
      }))
      .reverse();
    const { sheet, unfit } = apply(fresh, set);
    expect(unfit).toEqual([]);
    expect(noteOf(sheet, 'n7').issue).toBe('contact');
  });

  it('says which decisions no longer fit', () => {
    const old = talk();
    const word = old.words[2];
    if (!word) throw new Error('no words');
    const decisions = [
      decide({ do: 'drop', note: anchor(old, 'n2') }),
      decide({ do: 'word', word, text: 'Nee' }),
      decide({ do: 'set', note: anchor(old, 'n1'), fields: { basis: 'taste' } }),
    ];
    const fresh = sheetOf([
      { say: 'her left elbow pops on forty two', issue: 'pop' },
      { say: 'let me play it again' },
    ]);
    const { sheet, unfit } = apply(fresh, ...decisions);
    expect(unfit.map(({ why }) => why)).toEqual([
      'no note is made of those words any more',
      '"knee" is not heard there any more',
    ]);
    expect(noteOf(sheet, 'n1').basis).toBe('taste');
  });

  it('does not add a note twice where the new reading finds it by itself', () => {
    const old = talk();
    const add = decide({
      do: 'add',
      words: { start: 12, end: 14.5, text: 'and the scarf is stuck' },
      role: 'fix',
    });
    const id = apply(old, add).sheet.notes.find((note) => note.id.startsWith('c-'))?.id ?? '';
    const set = decide({ do: 'set', note: anchor(apply(old, add).sheet, id), fields: { issue: 'cloth' } });
    const fresh = sheetOf([
      ...old.statements.slice(0, 4).map(({ text }) => ({ say: text })),
      { say: 'and the scarf is stuck', issue: 'hold' },
    ]);
    const { sheet, unfit } = apply(fresh, add, set);
    expect(unfit).toEqual([]);
    expect(sheet.notes.map(({ issue }) => issue)).toEqual(['cloth']);
  });
});

function transcript({ recording, model, words }: Sheet) {
  return { schema: 'critsheet-transcript/1' as const, recording, model, words };
}
