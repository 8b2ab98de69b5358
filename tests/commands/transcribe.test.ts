import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { transcriptSchema } from '../../src/transcript/transcript.ts';
import { critsheet, inFolder } from './run-command.ts';
import { putTranscript } from './saved-transcript.ts';

describe('transcribe', () => {
  it('writes every format of a transcript', () =>
    inFolder(async (folder) => {
      const path = await putTranscript(folder);
      const out = join(folder, 'out');
      const { code, err } = await critsheet(['transcribe', path, '--as', 'vtt,srt,json,txt', '--out', out]);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect((await readdir(out)).sort()).toEqual(
        ['take3.srt', 'take3.transcript.json', 'take3.txt', 'take3.vtt'].sort(),
      );
      expect(await readFile(join(out, 'take3.transcript.json'), 'utf8')).toBe(await readFile(path, 'utf8'));
    }));

  it('--json prints the transcript on standard output and nothing else anywhere', () =>
    inFolder(async (folder) => {
      const { code, out, err } = await critsheet(['transcribe', await putTranscript(folder), '--json']);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(transcriptSchema.parse(JSON.parse(out)).words.length).toBeGreaterThan(100);
      expect(await readdir(folder)).toEqual(['take3.transcript.json']);
    }));

  it('looks for the recording before the folder of its files', () =>
    inFolder(async (folder) => {
      const { code, err } = await critsheet(['transcribe', join(folder, 'no', 'a.wav')]);
      expect(code).toBe(1);
      expect(err).toMatch(/^critsheet: There is no file .*a\.wav: check the name and the folder\.\n$/);
    }));
});
