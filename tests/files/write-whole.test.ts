import { execFileSync } from 'node:child_process';
import { chmod, readdir, readFile, stat, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { writeWhole } from '../../src/files/write-whole.ts';
import { inFolder } from '../commands/run-command.ts';

describe('a file that is written whole or not at all', () => {
  it('takes the place of the one before, with its permissions, and leaves nothing beside it', () =>
    inFolder(async (folder) => {
      const path = join(folder, 'take3.sheet.md');
      await writeFile(path, 'older');
      await chmod(path, 0o640);
      await writeWhole(path, 'newer ü');
      expect(await readFile(path, 'utf8')).toBe('newer ü');
      expect((await stat(path)).mode & 0o777).toBe(0o640);
      expect(await readdir(folder)).toEqual(['take3.sheet.md']);
    }));

  it('goes where a link leads', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'real.md'), 'older');
      await symlink('real.md', join(folder, 'link.md'));
      await writeWhole(join(folder, 'link.md'), 'newer');
      expect(await readFile(join(folder, 'real.md'), 'utf8')).toBe('newer');
    }));

  // A disk that fills takes the first part of a text and reports no error until the next; so does this limit.
  it.skipIf(process.platform !== 'linux')('stays the older one where there is no room for the newer', () =>
    inFolder(async (folder) => {
      const path = join(folder, 'take3.sheet.json');
      await writeFile(path, 'older');
      const script = fileURLToPath(new URL('write-in-little-room.ts', import.meta.url));
      const command = [process.execPath, '--import', import.meta.resolve('tsx'), script, path];
      const write = (bytes: number) =>
        execFileSync('bash', ['-c', 'ulimit -f 1000 && exec "$@"', 'bash', ...command, `${bytes}`], {
          encoding: 'utf8',
        }).trim();
      expect(write(3_000_000)).toBe('EFBIG');
      expect(await readFile(path, 'utf8')).toBe('older');
      expect(await readdir(folder)).toEqual(['take3.sheet.json']);
      expect(write(300_000)).toBe('written');
      expect((await stat(path)).size).toBe(300_000);
    }),
  );

  it('puts away what a killed program left long ago, and nothing else', () =>
    inFolder(async (folder) => {
      const old = ['.take3.sheet.md.0123abcd.part', '.take4.sheet.md.0123abcd.part', '.take3.sheet.md.part'];
      for (const name of [...old, '.take3.sheet.md.4567abcd.part']) await writeFile(join(folder, name), '');
      for (const name of old) await utimes(join(folder, name), 1, 1);
      await writeWhole(join(folder, 'take3.sheet.md'), 'text');
      expect((await readdir(folder)).sort()).toEqual([
        '.take3.sheet.md.4567abcd.part',
        '.take3.sheet.md.part',
        '.take4.sheet.md.0123abcd.part',
        'take3.sheet.md',
      ]);
    }));
});
