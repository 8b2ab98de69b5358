import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/table.ts';
import { critsheet } from './run-command.ts';

describe('help', () => {
  it('names every command, and exits 0', async () => {
    const { code, out } = await critsheet(['--help']);
    expect(code).toBe(0);
    for (const name of ['read', 'transcribe', 'write', 'models'])
      expect(out).toMatch(new RegExp(`^  ${name} `, 'm'));
    // One line for each command of the table, and one for "help" itself.
    const listed = out.slice(out.indexOf('Commands:')).match(/^ {2}[a-z]+ /gm);
    expect(listed).toHaveLength(COMMANDS.length + 1);
  });

  it.each(['read', 'transcribe', 'write', 'models'])('of %s describes it and its options', async (name) => {
    const { code, out } = await critsheet([name, '--help']);
    expect(code).toBe(0);
    expect(out).toContain(`Usage: critsheet ${name}`);
    expect(out).toContain('--verbose');
  });

  it('names the formats where one can be chosen', async () => {
    const { out } = await critsheet(['write', '--help']);
    for (const format of ['json', 'md', 'vtt', 'srt', 'txt'])
      expect(out).toMatch(new RegExp(`\\b${format}\\s+\\(`));
  });
});

it('--version prints the version of the package', async () => {
  const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));
  expect(await critsheet(['--version'])).toEqual({ code: 0, out: `${version}\n`, err: '' });
});

describe('a wrong command line exits 2, prints nothing on standard output and says what is wrong', () => {
  it.each<[string[], string]>([
    [[], 'Usage: critsheet'],
    [['reed'], "unknown command 'reed'"],
    [['read'], "missing required argument 'recordings'"],
    [['read', 'a.wav', '--shoot', 'x'], "unknown option '--shoot'"],
    [['transcribe', 'a.wav', 'b.wav'], 'too many arguments'],
    [
      ['read', 'a.wav', '--as', 'md,pdf'],
      'There is no format "pdf". Choose from json, vtt, srt, txt, md, html, csv, jsonl, otio, chapters.',
    ],
    [['read', 'a.wav', '--as', ','], 'No format is named.'],
    [['read', 'a.wav', '--out'], "option '--out <folder>' argument missing"],
    [['transcribe', 'a.wav', '--as', 'md'], 'There is no format "md". Choose from json, vtt, srt, txt.'],
    [['write', 'a.sheet.json'], "required option '--as <formats>' not specified"],
    [['models', 'prepare'], "missing required argument 'id'"],
  ])('critsheet %j', async (args, said) => {
    const { code, out, err } = await critsheet(args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(said);
  });
});
