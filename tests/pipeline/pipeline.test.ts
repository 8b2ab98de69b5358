import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type Progress, readCritique } from '../../src/pipeline.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { SHEET_WRITERS } from '../../src/sheet/writers/writers.ts';
import { inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';

/** What the contract promises of every sheet, whatever was said. */
function expectSound(sheet: Sheet): void {
  const said = sheet.words.map((word) => word.text).join(' ');
  expect(sheet.statements.map((statement) => statement.text).join(' ')).toBe(said);

  const noteIds = sheet.notes.map((note) => note.id);
  expect(new Set(noteIds).size).toBe(noteIds.length);
  expect(new Set(sheet.statements.map(({ id }) => id)).size).toBe(sheet.statements.length);
  for (const { note } of sheet.statements) if (note !== null) expect(noteIds).toContain(note);

  const ranked = [...sheet.notes].sort((a, b) => a.rank - b.rank);
  expect(ranked.map((note) => note.rank)).toEqual(ranked.map((_, i) => i + 1));
  const groups = ranked.map((note) => (note.withdrawn ? 2 : note.role === 'keep' ? 1 : 0));
  expect(groups).toEqual([...groups].sort((a, b) => a - b));

  for (const note of sheet.notes) {
    expect(note.spans.length).toBeGreaterThan(0);
    for (const span of note.spans) expect(span.start).toBeLessThanOrEqual(span.end);
    if (note.frames) expect(note.frames.first).toBeLessThanOrEqual(note.frames.last);
    if (note.amount) expect(note.amount.min).toBeLessThanOrEqual(note.amount.max);
  }
  expect(readSheet(SHEET_WRITERS.json?.write(sheet) ?? '', 'again')).toEqual(sheet);
}

const CAPTIONS = [
  ['WEBVTT\n', '00:00:01.000 --> 00:00:04.000\nThe left heel is skating from ten to eighteen.\n'],
  ['00:00:05.000 --> 00:00:08.000\nI love the turn of the head, keep it.\n'],
].map((lines) => lines.join('\n'));

describe('readCritique', () => {
  it('makes a sound sheet from a saved transcript', () =>
    inFolder(async (folder) => {
      const { sheet } = await readCritique(await putTranscript(folder), {
        shot: {
          name: 'bk12',
          first: 1001,
          last: 1096,
          characters: [{ name: 'the baker', words: ['baker', 'he', 'his'] }],
        },
      });
      expectSound(sheet);
      expect(sheet.shot).toMatchObject({ name: 'bk12', fps: 24, dialogue: [] });
      expect(sheet.notes.filter((note) => note.role === 'fix').length).toBeGreaterThan(0);
    }));

  it.each(['vtt', 'srt'])('makes a sound sheet from .%s captions', (ending) =>
    inFolder(async (folder) => {
      const path = join(folder, `talk.${ending}`);
      const text = CAPTIONS.join('\n');
      const srt = text.replace('WEBVTT\n\n', '').replaceAll(/(\d)\.(\d{3})/g, '$1,$2');
      await writeFile(path, ending === 'vtt' ? text : srt);
      const { sheet, problems } = await readCritique(path);
      expect(problems).toEqual([]);
      expectSound(sheet);
      expect(sheet.shot.name).toBe('talk');
      expect(sheet.model.sha256).toBeNull();
      expect(sheet.notes.find((note) => note.role === 'fix')).toMatchObject({
        issue: 'contact',
        body: [{ part: 'heel', side: 'left' }],
        frames: { first: 10, last: 18, source: 'spoken' },
      });
    }),
  );

  it('makes a sound sheet from sound, and tells how far it is all the way', async () => {
    const path = fileURLToPath(new URL('../fixtures/speech/synth-lift.wav', import.meta.url));
    const told: Progress[] = [];
    const { sheet } = await readCritique(path, {
      model: 'moonshine-tiny',
      onProgress: (progress) => void told.push(progress),
    });
    expectSound(sheet);
    expect(sheet.recording.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(sheet.model.id).toBe('moonshine-tiny');
    expect([...new Set(told.map(({ stage }) => stage))]).toEqual([
      'recording',
      'model',
      'voice',
      'words',
      'notes',
    ]);
    for (const { done } of told) expect(done).toBeGreaterThanOrEqual(0);
    for (const { done } of told) expect(done).toBeLessThanOrEqual(1);
  });

  it('stops where it is told to, with the reason', async () => {
    const path = fileURLToPath(new URL('../fixtures/speech/synth-lift.wav', import.meta.url));
    const stop = new AbortController();
    const reason = new Error('enough');
    const work = readCritique(path, {
      model: 'moonshine-tiny',
      signal: stop.signal,
      onProgress: ({ stage }) => {
        if (stage === 'voice') stop.abort(reason);
      },
    });
    await expect(work).rejects.toBe(reason);
  });
});
