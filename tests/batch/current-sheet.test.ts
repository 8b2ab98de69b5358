import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasCurrentSheet } from '../../src/batch/current-sheet.ts';
import { doReadJob } from '../../src/batch/do-read-job.ts';
import type { ReadJob } from '../../src/batch/read-job.ts';
import { inFolder } from '../commands/run-command.ts';

const CAPTIONS = `WEBVTT

00:00.000 --> 00:04.000
The left heel is skating from ten to eighteen, lock it.
`;
const TALLY =
  "export default { format: 'tally', ending: '.tally.txt', write: ({ notes }) => String(notes.length) };\n";

/** Calls with a recording that has its sheet, and what is asked for of it. */
async function withSheet(
  asked: (folder: string) => Partial<ReadJob>,
  work: (job: ReadJob, folder: string) => Promise<void>,
): Promise<void> {
  await inFolder(async (folder) => {
    const recording = join(folder, 'take3.vtt');
    await writeFile(recording, CAPTIONS);
    await writeFile(join(folder, 'words.txt'), 'Quillon\n');
    await writeFile(join(folder, 'other-words.txt'), 'Quillon # the owl\nTamsel\n');
    await writeFile(join(folder, 'log.csv'), 'time,frame\n0,1\n4,97\n');
    await writeFile(join(folder, 'tally.mjs'), TALLY);
    const job: ReadJob = { recording, folder, formats: [], ...asked(folder) };
    await doReadJob(job);
    expect(await hasCurrentSheet(job)).toBe(true);
    await work(job, folder);
  });
}

describe('a recording that has its sheet is read again', () => {
  it.each<[string, (folder: string) => Partial<ReadJob>]>([
    ['with a list of words to listen for', (folder) => ({ glossary: join(folder, 'words.txt') })],
    ['with a log of the player', (folder) => ({ playhead: join(folder, 'log.csv') })],
    ['with the frame counter', () => ({ counter: 'find' })],
    ['with the counter in a box', () => ({ counter: { x: 0, y: 0, width: 9, height: 9 } })],
    ['with another shot', () => ({ shotDefaults: { first: 101 } })],
    ['with one more format', () => ({ formats: ['csv'] })],
    ['with one more format of a person’s own', (folder) => ({ writers: [join(folder, 'tally.mjs')] })],
  ])('%s', (_, changed) =>
    withSheet(
      () => ({}),
      async (job, folder) => expect(await hasCurrentSheet({ ...job, ...changed(folder) })).toBe(false),
    ),
  );

  it('when the list of words was changed, and not when it lies elsewhere', () =>
    withSheet(
      (folder) => ({ glossary: join(folder, 'words.txt') }),
      async (job, folder) => {
        expect(await hasCurrentSheet({ ...job, glossary: join(folder, 'other-words.txt') })).toBe(false);
        const moved = join(folder, 'moved.txt');
        await writeFile(moved, 'Quillon\n');
        expect(await hasCurrentSheet({ ...job, glossary: moved })).toBe(true);
        await writeFile(moved, 'Tamsel\n');
        expect(await hasCurrentSheet({ ...job, glossary: moved })).toBe(false);
      },
    ));

  it('when the list of words is left out again', () =>
    withSheet(
      (folder) => ({ glossary: join(folder, 'words.txt') }),
      async ({ glossary: _, ...job }) => expect(await hasCurrentSheet(job)).toBe(false),
    ));

  it('when a file of a format of a person’s own is gone', () =>
    withSheet(
      (folder) => ({ writers: [join(folder, 'tally.mjs')] }),
      async (job, folder) => {
        await rm(join(folder, 'take3.tally.txt'));
        expect(await hasCurrentSheet(job)).toBe(false);
      },
    ));
});
