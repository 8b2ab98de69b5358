import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Kept } from '../src/basics/kept.ts';
import { PersonError } from '../src/basics/problem.ts';
import { type ReadEvent, readEvents } from '../src/read-events.ts';
import { sheetSchema } from '../src/sheet/sheet.ts';
import { inFolder } from './commands/run-command.ts';

const SPEECH = fileURLToPath(new URL('fixtures/speech/synth-lift.wav', import.meta.url));
const TINY = { model: 'moonshine-tiny' };

describe('a reading as events', () => {
  it('tells of every stage in turn, and ends with the sheet', async () => {
    const events: ReadEvent[] = [];
    for await (const event of readEvents(SPEECH, TINY)) events.push(event);
    const stages = events.flatMap((event) => (event.type === 'progress' ? [event.stage] : []));
    expect([...new Set(stages)]).toEqual(expect.arrayContaining(['recording', 'voice', 'notes']));
    const last = events.at(-1);
    if (last?.type !== 'sheet') throw new Error('the last event is no sheet');
    expect(sheetSchema.parse(last.sheet).words.length).toBeGreaterThan(3);
    expect(events.filter(({ type }) => type === 'sheet')).toHaveLength(1);
  });

  it('tells what was noticed and lived with', () =>
    inFolder(async (folder) => {
      const path = join(folder, 'talk.srt');
      await writeFile(path, 'no times\n\n1\n00:00:01,000 --> 00:00:02,000\nThe wrist pops.\n');
      const told: string[] = [];
      for await (const event of readEvents(path)) if (event.type === 'problem') told.push(event.message);
      expect(told).toEqual(['In talk.srt, line 1: The times cannot be read.']);
    }));

  it('stops the work when the loop is left', async () => {
    const put: string[] = [];
    const kept: Kept = {
      get: async () => undefined,
      put: async ({ name }) => void put.push(name),
      drop: async () => undefined,
    };
    const stages: string[] = [];
    for await (const event of readEvents(SPEECH, { ...TINY, kept })) {
      if (event.type === 'progress') stages.push(event.stage);
      if (stages.at(-1) === 'voice') break;
    }
    expect(stages.at(-1)).toBe('voice');
    // Work that went on would put its words away, or be told of as an unhandled rejection, which fails this run.
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(put).not.toContain('transcript');
    for await (const _ of readEvents(SPEECH, { ...TINY, kept }));
    expect(put).toContain('transcript');
  });

  it('throws what a person can mend', async () => {
    const events = readEvents('nowhere.wav');
    await expect(events.next()).rejects.toBeInstanceOf(PersonError);
  });

  it("throws the signal's reason", async () => {
    const reason = new Error('enough');
    const signal = AbortSignal.abort(reason);
    await expect(readEvents(SPEECH, { ...TINY, signal }).next()).rejects.toBe(reason);
  });
});
