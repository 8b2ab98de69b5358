import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from './run-command.ts';

const PRACTICE = fileURLToPath(new URL('../critiques/practice', import.meta.url));

describe('critsheet measure', () => {
  it('prints a report of every critique of the folder', async () => {
    const { code, out, err } = await critsheet(['measure', PRACTICE, '--worst', '1']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const row of ['a2', 'b1', 'c1', 'c3', 'in all'])
      expect(out).toMatch(new RegExp(`^ {2}${row} `, 'm'));
  });

  it('prints the same as JSON', async () => {
    const { code, out } = await critsheet(['measure', PRACTICE, '--json', '--worst', '1']);
    expect(code).toBe(0);
    const measurement = JSON.parse(out);
    expect(measurement.critiques.map(({ name }: { name: string }) => name)).toEqual(['a2', 'b1', 'c1', 'c3']);
    expect(measurement.inAll.roleMacroF).toBeGreaterThan(0);
    expect(measurement.worst.lost.length).toBeLessThanOrEqual(1);
  });

  it('names the file and the key that is wrong, and exits 1', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'take3.sheet.json'), '{"schema": "critsheet/1"}');
      const { code, out, err } = await critsheet(['measure', folder]);
      expect({ code, out }).toEqual({ code: 1, out: '' });
      expect(err).toContain(
        'take3.sheet.json is not a labelled critique that can be used: "name" is missing',
      );
    }));

  it.each(['0', '-1', 'all', '1.5'])('refuses --worst %s', async (number) => {
    const { code, err } = await critsheet(['measure', PRACTICE, `--worst=${number}`]);
    expect(code).toBe(2);
    expect(err).toContain('Give a whole number from 1 on');
  });

  it('stops when asked to', async () => {
    const { code, out } = await critsheet(['measure', PRACTICE], AbortSignal.abort());
    expect({ code, out }).toEqual({ code: 130, out: '' });
  });
});
