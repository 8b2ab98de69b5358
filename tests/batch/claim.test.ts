import { mkdir, readdir, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { claim } from '../../src/batch/claim.ts';
import { inFolder } from '../commands/run-command.ts';

describe('a claim', () => {
  it('is held by one at a time, and leaves nothing behind', () =>
    inFolder(async (folder) => {
      const first = await claim('take3.wav', folder);
      expect(first).not.toBeNull();
      expect(await claim('elsewhere/take3.mov', folder)).toBeNull();
      const other = await claim('take4.wav', folder);
      expect(other).not.toBeNull();
      await first?.release();
      await other?.release();
      expect(await readdir(folder)).toEqual([]);
      const second = await claim('take3.wav', folder);
      expect(second).not.toBeNull();
      await second?.release();
    }));

  it('that a killed program left behind is taken over', () =>
    inFolder(async (folder) => {
      const left = join(folder, '.take3.critsheet-lock');
      await mkdir(left);
      expect(await claim('take3.wav', folder)).toBeNull();
      const longAgo = new Date(Date.now() - 60_000);
      await utimes(left, longAgo, longAgo);
      const taken = await claim('take3.wav', folder);
      expect(taken).not.toBeNull();
      await taken?.release();
    }));

  it('is not lost with the folder: giving it back fails nobody', () =>
    inFolder(async (folder) => {
      const held = await claim('take3.wav', join(folder, 'notes'));
      const { rm } = await import('node:fs/promises');
      await rm(join(folder, 'notes'), { recursive: true });
      await held?.release();
      expect(held).not.toBeNull();
    }));
});
