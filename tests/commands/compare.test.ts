import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { savedSheet } from '../sheet/saved-sheet.ts';
import { critsheet, inFolder } from './run-command.ts';

const TALK = `WEBVTT

00:00:01.000 --> 00:00:05.000
The left heel is still skating from ten forty to ten fifty-two, same as last time.

00:00:07.000 --> 00:00:10.000
And the hat pops on ten sixty.
`;

async function withFiles<T>(work: (folder: string, old: string, talk: string) => Promise<T>): Promise<T> {
  return inFolder(async (folder) => {
    const [old, talk] = [join(folder, 'v4.sheet.json'), join(folder, 'v5.vtt')];
    writeFileSync(old, JSON.stringify(savedSheet()));
    writeFileSync(talk, TALK);
    writeFileSync(join(folder, 'shot.json'), JSON.stringify({ ...savedSheet().shot }));
    return work(folder, old, talk);
  });
}

function ticksOf(sha256: string): string {
  const [note] = savedSheet().notes;
  const done = [
    { note: note?.id, title: note?.title, start: note?.spans[0]?.start, at: '2026-01-01T00:00:00.000Z' },
  ];
  return JSON.stringify({
    schema: 'critsheet-ticks/1',
    recording: { file: 'v4.wav', sha256 },
    shot: 'bk12',
    done,
  });
}

describe('critsheet read --previous', () => {
  it('puts what became of the old notes into the sheet, and "critsheet compare" says the same', () =>
    withFiles(async (folder, old, talk) => {
      const ticks = join(folder, 'v4.ticks.json');
      writeFileSync(ticks, ticksOf(savedSheet().recording.sha256));
      const read = await critsheet(['read', talk, '--previous', old, '--ticks', ticks]);
      expect(read.err).toContain('shot.json');
      expect(read.code).toBe(0);
      const path = join(folder, 'v5.sheet.json');
      const sheet = sheetSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
      const heel = sheet.previous?.notes.find(({ note }) => note.id === 'n1');
      expect(heel).toMatchObject({ verdict: 'still-there', asked: 2, ticked: '2026-01-01T00:00:00.000Z' });
      const markdown = readFileSync(join(folder, 'v5.sheet.md'), 'utf8');
      expect(markdown).toContain(
        '- Asked for: the second time (last time: Plant the left heel, 1040 to 1052; it was ticked off)',
      );

      const compared = await critsheet(['compare', old, path, '--ticks', ticks, '--json']);
      const { schema, newRecording, ...previous } = JSON.parse(compared.out);
      expect(schema).toBe('critsheet-comparison/1');
      expect(newRecording.file).toBe('v5.vtt');
      expect(previous).toEqual(sheet.previous);

      const text = await critsheet(['compare', old, path]);
      expect(text.code).toBe(0);
      expect(text.out).toMatch(/^3 notes of bk12_sh030_v004\.wav: 1 still there, /);
      expect(text.out).toContain('same as last time');
    }));

  it('says in a sentence what cannot be compared', () =>
    withFiles(async (folder, old, talk) => {
      const alien = join(folder, 'alien.ticks.json');
      writeFileSync(alien, ticksOf('of another'));
      const runs: [string[], string][] = [
        [['compare', old, old], 'Both sheets are of bk12_sh030_v004.wav'],
        [['compare', old, join(folder, 'none.sheet.json')], 'There is no file'],
        [['compare', old, old, '--ticks', alien], 'give the ticks of the older sheet'],
        [['compare', alien, old], 'is marked "critsheet-ticks/1"'],
        [['read', talk, '--ticks', alien], 'add --previous OLD.sheet.json'],
        [['read', talk, '--previous', talk], 'v5.vtt is not JSON'],
      ];
      for (const [args, said] of runs) {
        const { code, err } = await critsheet(args);
        expect(err).toContain(said);
        expect(code).toBe(1);
      }
    }));
});
