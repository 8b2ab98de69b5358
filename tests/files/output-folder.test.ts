import { existsSync } from 'node:fs';
import { chmod, mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';

/** A system folder in which even the superuser cannot make files; null where there is none. */
const UNWRITABLE = ['/sys/kernel', '/proc'].find((path) => process.platform === 'linux' && existsSync(path));
const isSuperuser = process.getuid?.() === 0;

describe('a folder that cannot be written into exits 1 before any work, with one line', () => {
  async function refusal(folder: string, out: string): Promise<string> {
    const ran = await critsheet(['read', await putTranscript(folder), '--out', out]);
    expect({ code: ran.code, out: ran.out }).toEqual({ code: 1, out: '' });
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
    return ran.err;
  }

  it('because it is a file', () =>
    inFolder(async (folder) => {
      const file = join(folder, 'notes');
      await writeFile(file, 'mine');
      expect(await refusal(folder, file)).toBe(
        `critsheet: ${file} is a file, not a folder: give a folder with --out.\n`,
      );
      expect(await refusal(folder, join(file, 'deeper'))).toContain('give a folder with --out.');
    }));

  it('because the folder around it does not exist', () =>
    inFolder(async (folder) => {
      expect(await refusal(folder, join(folder, 'a', 'b'))).toBe(
        `critsheet: There is no folder ${join(folder, 'a')}: make it first, or give another folder with --out.\n`,
      );
    }));

  it.skipIf(isSuperuser)('because it may not be written', () =>
    inFolder(async (folder) => {
      const out = join(folder, 'closed');
      await mkdir(out);
      await chmod(out, 0o555);
      expect(await refusal(folder, out)).toBe(
        `critsheet: ${out} may not be written by you: give another folder with --out.\n`,
      );
    }),
  );

  it.skipIf(!UNWRITABLE)('because the system keeps it', () =>
    inFolder(async (folder) => {
      expect(await refusal(folder, join(UNWRITABLE ?? '', 'critsheet-test'))).toMatch(/ --out\.\n$/);
    }),
  );
});
