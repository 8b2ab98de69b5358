import { appendFileSync, existsSync, renameSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { doReadJob } from '../../src/batch/do-read-job.ts';
import { readJobSchema, readResultSchema } from '../../src/batch/read-job.ts';
import { whileUnchanged } from '../../src/batch/unchanged.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { putTranscript } from '../commands/saved-transcript.ts';

const SHA = { old: 'ab'.repeat(32), new: 'cd'.repeat(32) };

describe('a reading as plain data', () => {
  it('survives the way through JSON, there and back', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      const job = readJobSchema.parse(JSON.parse(JSON.stringify({ recording, folder, formats: ['txt'] })));
      const { result } = await doReadJob(job);
      expect(readResultSchema.parse(JSON.parse(JSON.stringify(result)))).toEqual(result);
      expect(result).toMatchObject({ recording, sha256: SHA.old, notices: [], problems: [] });
      expect(result.written).toEqual(
        ['take3.sheet.json', 'take3.sheet.md', 'take3.txt'].map((name) => join(folder, name)),
      );
      expect((await critsheet(['read', recording])).out).toContain(`${result.summary}\n`);
    }));

  it('of a recording that is replaced meanwhile is one of the new', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      const next = await putTranscript(folder, 'next', SHA.new);
      const { result } = await doReadJob(
        { recording, folder, formats: [] },
        {
          onProgress: () => {
            if (existsSync(next)) renameSync(next, recording);
          },
        },
      );
      expect(result.sha256).toBe(SHA.new);
      expect(result.notices).toEqual([`${recording} was replaced while it was read, and was read again.`]);
      const sheet = JSON.parse(await readFile(join(folder, 'take3.sheet.json'), 'utf8'));
      expect(sheet.recording.sha256).toBe(SHA.new);
    }));

  it('of a recording that does not come to rest is refused', () =>
    inFolder(async (folder) => {
      const recording = await putTranscript(folder);
      let times = 0;
      const work = async () => appendFileSync(recording, ' '.repeat(++times));
      await expect(whileUnchanged(recording, work)).rejects.toThrow('was changed each time it was read');
      expect(times).toBeGreaterThan(2);
    }));
});
