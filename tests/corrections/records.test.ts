import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyCorrections } from '../../src/corrections/apply.ts';
import { readCorrections } from '../../src/corrections/corrections.ts';
import { readTicks } from '../../src/sheet/ticks.ts';
import { noteOf, talk } from './sheet-of.ts';

const saved = (name: string): string => readFileSync(new URL(`../records/${name}`, import.meta.url), 'utf8');

describe('a file saved by an earlier version', () => {
  it('of corrections is read and applied as it was', () => {
    const text = saved('critsheet-corrections-1.corrections.json');
    const corrections = readCorrections(text, 'saved');
    expect(corrections).toEqual(JSON.parse(text));
    const { sheet, unfit } = applyCorrections(talk(), corrections.decisions, ({ issue }) => `${issue}`);
    expect(unfit).toEqual([]);
    expect(noteOf(sheet, 'n1')).toMatchObject({ issue: 'arc', title: 'arc', amount: { min: 2, max: 3 } });
    expect(noteOf(sheet, 'n2').spans[0]?.text).toBe('the held pose is lovely do not touch it');
    expect(sheet.notes).toHaveLength(4);
  });

  it('of ticks is read as it was', () => {
    const text = saved('critsheet-ticks-1.ticks.json');
    expect(readTicks(text, 'saved')).toEqual(JSON.parse(text));
    expect(() => readTicks(text.replace('ticks/1', 'ticks/2'), 'a.ticks.json')).toThrow('a.ticks.json');
  });
});
