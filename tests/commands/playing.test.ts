import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

const readSheet = async (folder: string) =>
  sheetSchema.parse(JSON.parse(await readFile(join(folder, 'take3.sheet.json'), 'utf8')));

describe('read, told where the shot stood', () => {
  it("places notes by the player's log and keeps what it told", () =>
    inFolder(async (folder) => {
      const log = join(folder, 'player.csv');
      await writeFile(log, 'time,frame\n0,24\n600,24\n');
      const { code } = await critsheet(['read', await putTranscript(folder), '--playhead', log]);
      expect(code).toBe(0);
      const { passes, notes } = await readSheet(folder);
      expect(passes?.[0]).toMatchObject({ first: 24, last: 24, source: 'log' });
      const placed = notes.filter(({ frames }) => frames?.source === 'playback');
      expect(placed).not.toEqual([]);
      for (const { frames } of placed) expect(frames).toMatchObject({ first: 24, last: 24 });
      // Nobody may lose what was said aloud to where the shot stood.
      for (const { frames } of notes) expect(frames).not.toBeNull();
    }));

  it('writes the sheet from what remains of a bad log, with one sentence for each fault', () =>
    inFolder(async (folder) => {
      const log = join(folder, 'player.csv');
      await writeFile(log, 'time,frame\n5,12\n2,12\nsoon,12\n7,-4\n');
      const { code, err } = await critsheet(['read', await putTranscript(folder), '--playhead', log]);
      expect(code).toBe(0);
      expect(err).toMatch(/player\.csv goes back in time on line 3/);
      expect(err).toMatch(/player\.csv has 1 row that cannot be read, the first with "soon"/);
      expect(err).toMatch(/player\.csv has 1 row outside the shot/);
      expect((await readSheet(folder)).notes).not.toEqual([]);
    }));

  it('looks for the files before it reads an hour of sound', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      const { code, err } = await critsheet(['read', path, '--shot-sound', join(folder, 'nowhere.wav')]);
      expect({ code, err }).toEqual({
        code: 1,
        err: expect.stringMatching(/There is no file .*nowhere\.wav/),
      });
    }));

  it('says how a box for a counter is written', () =>
    inFolder(async (folder) => {
      const { code, err } = await critsheet(['read', await putTranscript(folder), '--counter', '20,640']);
      expect(code).toBe(2);
      expect(err).toMatch(/four whole numbers with commas between: left, top, width, height/);
    }));

  it('says that captions hold neither a counter nor the sound of the shot', () =>
    inFolder(async (folder) => {
      const { code, err } = await critsheet(['read', await putTranscript(folder), '--counter']);
      expect(code).toBe(0);
      expect(err).toMatch(/holds words alone/);
    }));
});
