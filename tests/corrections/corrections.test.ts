import { describe, expect, it } from 'vitest';
import { correctionsSchema, readCorrections } from '../../src/corrections/corrections.ts';
import { mergeDecisions } from '../../src/corrections/decisions.ts';
import { anchor, decide, talk } from './sheet-of.ts';

const sheet = talk();
const decisions = [
  decide({ do: 'split', note: anchor(sheet, 'n1'), from: 1.5 }),
  decide({ do: 'join', note: anchor(sheet, 'n1'), with: anchor(sheet, 'n2') }),
  decide({ do: 'set', note: anchor(sheet, 'n1'), fields: { amount: null, frames: { first: 1, last: 2 } } }),
];
const record = {
  schema: 'critsheet-corrections/1' as const,
  recording: { file: 'talk.wav', sha256: 'ab12' },
  revision: 3,
  decisions,
};

describe('a file of corrections', () => {
  it('is read as it was written, later keys among it', () => {
    const text = JSON.stringify({ ...record, later: { key: 1 } });
    expect(readCorrections(text, 'talk.corrections.json')).toEqual(JSON.parse(text));
    expect(correctionsSchema.parse(record)).toEqual(record);
  });

  it.each([
    ['{"schema": "critsheet-corrections/1", ', 'talk.corrections.json is not JSON: at line 1'],
    ['{"schema": "critsheet-corrections/7"}', 'is marked "critsheet-corrections/7", and this version reads'],
    [
      JSON.stringify({ ...record, decisions: [{ ...decisions[0], from: 'soon' }] }),
      '"decisions[0].from" must be a number',
    ],
    [
      JSON.stringify({ ...record, decisions: [{ id: 'abcdefgh', at: '', do: 'explode' }] }),
      '"decisions[0].do"',
    ],
  ])('is refused where it is damaged, and nothing writes over it', (text, said) => {
    expect(() => readCorrections(text, 'talk.corrections.json')).toThrow(said);
    expect(() => readCorrections(text, 'talk.corrections.json')).toThrow('nothing writes over it');
  });
});

describe('two lists of decisions', () => {
  it('become one that holds each decision once', () => {
    const [a, b, c] = decisions;
    if (!a || !b || !c) throw new Error('three are needed');
    expect(mergeDecisions([a, b], [b, c])).toEqual([a, b, c]);
  });
});
