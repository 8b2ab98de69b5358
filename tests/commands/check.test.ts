import { chmod, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import { noteOf, talk } from '../corrections/sheet-of.ts';
import { critsheet, inFolder } from './run-command.ts';

/** What the mocked prompts answer, one after another; a function is given the question. */
const answers: (
  | string
  | ((question: { message: string; options: { value: string; label?: string }[] }) => string)
)[] = [];

vi.mock('@clack/prompts', () => {
  const answer = async (question: { message: string; options: { value: string; label?: string }[] }) => {
    const next = answers.shift();
    if (next === undefined) throw new Error(`nobody answers "${question.message}"`);
    return typeof next === 'function' ? next(question) : next;
  };
  return {
    intro: vi.fn(),
    outro: vi.fn(),
    note: vi.fn(),
    isCancel: () => false,
    select: answer,
    text: answer,
    multiselect: answer,
  };
});

const terminals = [process.stdin.isTTY, process.stdout.isTTY] as const;
afterEach(() => {
  [process.stdin.isTTY, process.stdout.isTTY] = terminals;
  answers.length = 0;
});

async function put(folder: string): Promise<string> {
  const path = join(folder, 'talk.sheet.json');
  await writeFile(path, JSON.stringify(talk()));
  return path;
}

describe('critsheet check', () => {
  it('prints the address and ends with Ctrl-C', () =>
    inFolder(async (folder) => {
      const stop = new AbortController();
      const running = critsheet(['check', await put(folder), '--no-open'], stop.signal);
      setTimeout(() => stop.abort(), 1500);
      const { code, out } = await running;
      expect(out).toMatch(/the page is at http:\/\/127\.0\.0\.1:\d+\/\?key=\S+/);
      expect(out).toContain('nothing was changed; 2 notes to look at.');
      expect(code).toBe(0);
      expect(await readdir(folder)).toEqual(['talk.sheet.json']);
    }));

  it.each([
    ['a sheet of another schema', '{"schema": "critsheet/9"}', 'is marked "critsheet/9"'],
    ['damaged JSON', '{"schema": "critsheet/1", ', 'is not JSON: at line 1'],
  ])('exits 1 for %s', (_, text, said) =>
    inFolder(async (folder) => {
      const path = join(folder, 'talk.sheet.json');
      await writeFile(path, text);
      const { code, err } = await critsheet(['check', path, '--no-open']);
      expect(code).toBe(1);
      expect(err).toContain(said);
      expect(await readFile(path, 'utf8')).toBe(text);
    }),
  );

  it('exits 1 where the corrections beside the sheet are damaged or of another recording', () =>
    inFolder(async (folder) => {
      const path = await put(folder);
      const corrections = join(folder, 'talk.corrections.json');
      await writeFile(corrections, '{');
      expect((await critsheet(['check', path, '--no-open'])).err).toContain(
        'talk.corrections.json is not JSON',
      );
      const other = {
        schema: 'critsheet-corrections/1',
        recording: { file: 'b.wav', sha256: 'cd' },
        revision: 1,
        decisions: [],
      };
      await writeFile(corrections, JSON.stringify(other));
      const { code, err } = await critsheet(['check', path, '--no-open']);
      expect(code).toBe(1);
      expect(err).toContain('holds corrections of another recording (b.wav)');
    }));

  // Whoever may do everything is not stopped by permissions.
  it.skipIf(process.getuid?.() === 0)('exits 1 in a folder that can only be read', () =>
    inFolder(async (folder) => {
      const path = await put(folder);
      await chmod(folder, 0o555);
      const { code, err } = await critsheet(['check', path, '--no-open']).finally(() => chmod(folder, 0o755));
      expect(code).toBe(1);
      expect(err).toContain('may not be written by you');
    }),
  );

  it('exits 1 where the recording that is given is another', () =>
    inFolder(async (folder) => {
      const path = await put(folder);
      const fixture = new URL('../fixtures/recording/speech.wav', import.meta.url).pathname;
      const { code, err } = await critsheet(['check', path, '--no-open', '--recording', fixture]);
      expect(code).toBe(1);
      expect(err).toContain('speech.wav is not the recording that this sheet was made from');
    }));
});

describe('critsheet check --terminal', () => {
  it('exits 1 where there is no terminal, instead of waiting for ever', () =>
    inFolder(async (folder) => {
      [process.stdin.isTTY, process.stdout.isTTY] = [false, false];
      const { code, err } = await critsheet(['check', await put(folder), '--terminal']);
      expect(code).toBe(1);
      expect(err).toContain('this is no terminal');
    }));

  it('asks about each uncertain note, and saves every answer at once', () =>
    inFolder(async (folder) => {
      [process.stdin.isTTY, process.stdout.isTTY] = [true, true];
      const path = await put(folder);
      await critsheet(['write', path, '--as', 'md']);
      const labelled = (label: string) => (question: { options: { value: string; label?: string }[] }) =>
        question.options.find((option) => option.label?.includes(label))?.value ?? `no ${label}`;
      answers.push(
        // The less sure of the two first: its kind, another reading of it, then that it is right.
        'field',
        'frames',
        '1050 to 1052',
        labelled('Or rather: kind'),
        'undo',
        'word',
        labelled('stop'),
        'landing',
        'right',
        // Then the other.
        'add',
        labelled('scarf'),
        'fix',
        'skip',
        'skip',
      );
      const { code, out, err } = await critsheet(['check', path, '--terminal']);
      expect(err).toBe('');
      expect(code).toBe(0);
      expect(out).toContain('saved: frames set to 1050 to 1052, of');
      const sheet = readSheet(await readFile(path, 'utf8'), path);
      expect(sheet.notes.some(({ spans }) => spans[0]?.text === 'and the scarf is stuck')).toBe(true);
      expect(sheet.notes.some(({ frames }) => frames?.first === 1050 && frames.last === 1052)).toBe(true);
      expect(noteOf(sheet, 'n3').id).toBe('n3');
      // The page to read is written again with it.
      expect(await readFile(join(folder, 'talk.sheet.md'), 'utf8')).toContain('1050 to 1052');
    }));
});
