import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type Placing, placeFiles } from '../../src/files/place-files.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../../src/sheet/writers/writers.ts';
import { inFolder } from '../commands/run-command.ts';
import { savedSheet } from '../sheet/saved-sheet.ts';

function placing(folder: string, more: Partial<Placing<Sheet>> = {}): Placing<Sheet> {
  return {
    record: savedSheet(),
    formats: ['json', 'md'],
    writers: SHEET_AND_TRANSCRIPT_WRITERS,
    folder,
    name: 'take3',
    reread: readSheet,
    ...more,
  };
}

function failing(code: string): (path: string) => Promise<void> {
  return async (path) => {
    throw Object.assign(new Error(`${code}: something, write`), { code, path });
  };
}

describe('a disk that does not do what it should', () => {
  it.each([
    [
      'ENOSPC',
      'The disk is full, so FILE was not written: free some space, or give another folder with --out.',
    ],
    ['EDQUOT', 'Your share of the disk is full, so FILE was not written: free some space'],
    ['EACCES', 'FILE may not be written by you: give another folder with --out.'],
    ['EROFS', 'FILE is on a disk that can only be read: give another folder with --out.'],
    ['EIO', 'The disk failed while FILE was written'],
  ])('%s is told in one sentence, and what was there stays', (code, said) =>
    inFolder(async (folder) => {
      await placeFiles(placing(folder));
      const before = await contents(folder);
      const work = placeFiles(placing(folder, { write: failing(code) }));
      await expect(work).rejects.toMatchObject({
        name: 'PersonError',
        message: expect.stringContaining(said.replace('FILE', join(folder, 'take3.sheet.md'))),
      });
      expect(await contents(folder)).toEqual(before);
    }),
  );

  it('with a fault nobody foresaw, the error itself comes out', () =>
    inFolder(async (folder) => {
      await expect(placeFiles(placing(folder, { write: failing('EWEIRD') }))).rejects.toMatchObject({
        code: 'EWEIRD',
      });
    }));

  it('that fills after the page was written, the next run still knows the page as its own', () =>
    inFolder(async (folder) => {
      await placeFiles(placing(folder));
      const record = { ...savedSheet(), shot: { ...savedSheet().shot, name: 'renamed' } };
      const write = async (path: string, text: string) => {
        if (path.endsWith('.json')) await failing('ENOSPC')(path);
        await writeFile(path, text);
      };
      await expect(placeFiles(placing(folder, { record, write }))).rejects.toThrow('The disk is full');
      const { notices } = await placeFiles(placing(folder, { record }));
      expect(notices).toEqual([]);
      expect(Object.keys(await contents(folder)).sort()).toEqual(['take3.sheet.json', 'take3.sheet.md']);
    }));
});

describe('a process killed while it writes', () => {
  it('leaves one whole sheet, the older or the newer, and no part of one that anybody sees', () =>
    inFolder(async (folder) => {
      const writer = fileURLToPath(new URL('write-until-killed.ts', import.meta.url));
      for (const wait of [0, 7, 23, 61, 140]) {
        const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), writer, folder]);
        const closed = once(child, 'close');
        await once(child.stdout, 'data');
        await new Promise((later) => setTimeout(later, wait));
        child.kill('SIGKILL');
        await closed;
        const text = await readFile(join(folder, 'take3.sheet.json'), 'utf8');
        expect(readSheet(text, 'take3.sheet.json').shot.name).toMatch(/^turn [01]$/);
        const seen = (await readdir(folder)).filter((name) => !name.startsWith('.'));
        expect(seen).toEqual(['take3.sheet.json']);
      }
    }));
});

async function contents(folder: string): Promise<Record<string, string>> {
  const names = await readdir(folder);
  return Object.fromEntries(
    await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name), 'utf8')])),
  );
}
