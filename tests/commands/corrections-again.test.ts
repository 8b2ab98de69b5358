import { randomUUID } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Step } from '../../src/corrections/corrections.ts';
import { anchorOf } from '../../src/corrections/find-note.ts';
import { readCritiques } from '../../src/measure/critique.ts';
import { openSession } from '../../src/page/session.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

const decided = (step: Step) => ({ id: randomUUID(), at: '2026-01-01T00:00:00.000Z', ...step });

/** Reads a transcript, decides some things of the sheet, and gives what is needed to read again. */
async function corrected(folder: string) {
  const transcript = await putTranscript(folder);
  await critsheet(['read', transcript]);
  const path = join(folder, 'take3.sheet.json');
  const session = await openSession(path);
  const [first, second] = session.now().sheet.notes;
  const word = session.now().sheet.words.find(({ text }) => text === 'tray,');
  if (!first || !second || !word) throw new Error('the transcript gave too little');
  await session.decide([
    decided({ do: 'set', note: anchorOf(first), fields: { strength: 'must', issue: 'arc' } }),
    decided({ do: 'drop', note: anchorOf(second) }),
    decided({ do: 'word', word: { start: word.start, end: word.end, text: word.text }, text: 'tea,' }),
  ]);
  const sheetNow = async () => readSheet(await readFile(path, 'utf8'), path);
  return { transcript, path, first, second, sheetNow };
}

describe('reading a recording again that was corrected', () => {
  it('applies the corrections to the new reading', () =>
    inFolder(async (folder) => {
      const { transcript, first, second, sheetNow } = await corrected(folder);
      const before = await sheetNow();
      const { code, err } = await critsheet(['read', transcript]);
      expect(code).toBe(0);
      expect(err).toContain('3 of 3 corrections made by hand were applied again.');
      const after = await sheetNow();
      expect(after.notes.find(({ id }) => id === first.id)).toMatchObject({ strength: 'must', issue: 'arc' });
      expect(after.notes.some(({ id }) => id === second.id)).toBe(false);
      expect(after.words.map(({ text }) => text)).toEqual(before.words.map(({ text }) => text));
      expect(await readFile(join(folder, 'take3.sheet.md'), 'utf8')).toContain('Mind the tea, it');
    }));

  it('says what no longer fits', () =>
    inFolder(async (folder) => {
      const { transcript, path } = await corrected(folder);
      const corrections = path.replace('.sheet.json', '.corrections.json');
      const kept = JSON.parse(await readFile(corrections, 'utf8'));
      kept.decisions[1].note.spans = [{ start: 500, end: 501 }];
      await writeFile(corrections, JSON.stringify(kept));
      const { code, err } = await critsheet(['read', transcript]);
      expect(code).toBe(0);
      expect(err).toContain('2 of 3 corrections made by hand were applied again.');
      expect(err).toMatch(
        /A correction no longer fits \(".*" is no note\): no note is made of those words any more\./,
      );
      kept.recording.sha256 = 'cd'.repeat(32);
      await writeFile(corrections, JSON.stringify(kept));
      expect((await critsheet(['read', transcript])).err).toContain(
        'The corrections are of another recording',
      );
      await writeFile(corrections, '{"schema"');
      const damaged = await critsheet(['read', transcript]);
      expect(damaged.code).toBe(1);
      expect(damaged.err).toContain('take3.corrections.json is not JSON');
      expect(await readFile(corrections, 'utf8')).toBe('{"schema"');
    }));
});

describe('measuring against corrected sheets', () => {
  it('takes the labels from what a person decided, and says how many those are', () =>
    inFolder(async (folder) => {
      const { first } = await corrected(folder);
      const out = join(folder, 'labelled');
      const ran = await critsheet(['measure', '--corrections', folder, '--out', out, '--worst', '1']);
      expect(ran.code).toBe(0);
      expect(ran.err).toContain('take3.sheet.json: 1 note labelled by hand,');
      expect(ran.err).toContain('the machine is held against itself');
      expect(ran.out).toContain('1 critique, ');
      const [critique] = readCritiques(out);
      expect(critique?.notes[first.id]).toMatchObject({ issue: 'arc', strength: 'must', tier: 1 });
      expect(critique?.segments.map(({ say }) => say).join(' ')).toContain('Mind the tea,');
    }));

  it('exits 1 where nobody corrected anything', () =>
    inFolder(async (folder) => {
      await critsheet(['read', await putTranscript(folder)]);
      const { code, err } = await critsheet(['measure', '--corrections', folder]);
      expect(code).toBe(1);
      expect(err).toContain('holds no sheet that was corrected');
      expect((await critsheet(['measure'])).code).toBe(1);
    }));
});
